package apitest

// Watch has every call shown to see before it has its effect and, done, with its
// result after it. Where see says so the connection is dropped. It is called for
// many calls at once.
func (s *Server) Watch(see func(c Call, done bool, result any) (drop bool)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.watch = see
}

// Waiting is how many updates are not acknowledged.
func (s *Server) Waiting() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.queue)
}

// Acknowledged is the number up to which the bot has acknowledged all updates:
// those that were queued and are not brought any more.
func (s *Server) Acknowledged() int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.queue) > 0 {
		return s.queue[0].id - 1
	}
	return s.updates
}
