package telegram

// hands do tasks side by side. One that is free takes the next task, so that a
// task finds a stack that has grown to what an event needs; where none is free
// there is one more. They go when let go is closed.
type hands struct {
	tasks chan func()
	letGo chan struct{}
}

func newHands() *hands {
	return &hands{tasks: make(chan func()), letGo: make(chan struct{})}
}

// do begins a task.
func (h *hands) do(task func()) {
	select {
	case h.tasks <- task:
	default:
		go h.work(task)
	}
}

func (h *hands) work(task func()) {
	for {
		task()
		select {
		case task = <-h.tasks:
		case <-h.letGo:
			return
		}
	}
}
