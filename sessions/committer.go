package sessions

import (
	"context"
	"errors"
	"runtime"
	"sync"
	"time"

	"go.etcd.io/bbolt"
)

const (
	groupMost = 256                   // changes in one transaction
	groupFill = 50                    // changes that wait for no more: others are decided meanwhile
	groupWait = 20 * time.Millisecond // for those that are on their way
	markWait  = 2 * time.Millisecond  // for a change that several marks can go with
)

var errClosed = errors.New("the store is closed")

// job is one change on its way into the file.
type job struct {
	do   func(*bbolt.Tx) error // may be called again when another of the group failed
	done chan error

	expected bool // it was on its way
	mark     bool // it is in no hurry
}

// jobs are those that wait to be written.
type jobs struct {
	mu       sync.Mutex
	queue    []job         // oldest first
	hurried  int           // of them, those that are in a hurry
	expected int           // changes on their way here
	closed   bool          // no more are taken
	changed  chan struct{} // holds one when gather must look again
}

// add puts a job behind the others; false when no more are taken.
func (w *jobs) add(j job) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.closed {
		return false
	}
	w.queue = append(w.queue, j)
	if !j.mark {
		w.hurried++
	}
	if j.expected {
		w.expected = max(w.expected-1, 0)
	}
	if len(w.queue) == 1 || len(w.queue) >= groupMost || w.hurried >= groupFill || !j.mark && (w.hurried == 1 || w.expected == 0) {
		w.note()
	}
	return true
}

// expect changes how many changes are on their way.
func (w *jobs) expect(n int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.expected = max(w.expected+n, 0); w.expected == 0 && w.hurried > 0 {
		w.note()
	}
}

func (w *jobs) close() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.closed = true
	w.note()
}

// note is called with the lock held.
func (w *jobs) note() {
	select {
	case w.changed <- struct{}{}:
	default:
	}
}

// wait says how long those in the queue may wait for others.
func (w *jobs) wait() time.Duration {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch {
	case w.closed || len(w.queue) >= groupMost || w.hurried >= groupFill:
		return 0
	case w.expected > 0:
		return groupWait
	case w.hurried == 0 && len(w.queue) > 1: // one by itself may hold up its chat's next row
		return markWait
	}
	return 0
}

// take gives those that are written next; last is true when none will follow.
func (w *jobs) take() (group []job, last bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	n := min(len(w.queue), groupMost)
	if group, w.queue = w.queue[:n:n], w.queue[n:]; len(w.queue) == 0 {
		w.queue = nil // what was written is let go
	}
	for _, j := range group {
		if !j.mark {
			w.hurried--
		}
	}
	if len(w.queue) > 0 {
		w.note()
	}
	return group, w.closed && len(w.queue) == 0
}

// Expect says that so many more changes are on their way to Commit, or, below
// zero, that they are not after all. Those on their way are waited for a little,
// to be stored together. Commit takes one off. It lets others run, who may have
// more to expect.
func (d *DB) Expect(n int) {
	d.jobs.expect(n)
	if n > 0 {
		runtime.Gosched()
	}
}

// commit hands a change to the committer and returns when it is in the file for
// good, or nothing of it is.
func (d *DB) commit(ctx context.Context, do func(*bbolt.Tx) error) error {
	return d.hand(ctx, job{do: do})
}

// mark is commit for what is in no hurry: several of them wait a little for a
// change to go into the file with.
func (d *DB) mark(ctx context.Context, do func(*bbolt.Tx) error) error {
	return d.hand(ctx, job{do: do, mark: true})
}

func (d *DB) hand(ctx context.Context, j job) error {
	j.done = make(chan error, 1)
	err := ctx.Err()
	if err == nil && !d.jobs.add(j) {
		err = errClosed
	}
	if err != nil {
		if j.expected {
			d.jobs.expect(-1)
		}
		return err
	}
	return <-j.done
}

// committer writes what is handed in until the store closes: every change that
// is ready goes into one transaction, for it is the writing through to the disk
// that takes long.
func (d *DB) committer() {
	defer close(d.closed)
	for range d.jobs.changed {
		d.jobs.gather()
		group, last := d.jobs.take()
		d.write(group)
		if last {
			return
		}
	}
}

// gather waits for the changes that are on their way; a chat by itself never
// waits.
func (w *jobs) gather() {
	late := map[time.Duration]<-chan time.Time{}
	for {
		limit := w.wait()
		if limit == 0 {
			return
		}
		if late[limit] == nil {
			late[limit] = time.After(limit)
		}
		select {
		case <-w.changed:
		case <-late[limit]:
			return
		}
	}
}

// write stores a group in one transaction. One that fails is told so and left
// out; the others are written without it.
func (d *DB) write(group []job) {
	for len(group) > 0 {
		failed := -1
		err := d.file.Update(func(tx *bbolt.Tx) error {
			for i, j := range group {
				if err := j.do(tx); err != nil {
					failed = i
					return err
				}
			}
			return nil
		})
		if failed < 0 {
			for _, j := range group {
				j.done <- err
			}
			return
		}
		group[failed].done <- err
		group = append(group[:failed:failed], group[failed+1:]...)
	}
}
