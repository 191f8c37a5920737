package engine

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"halfweight/bot/wire"
	"halfweight/sessions"
)

const (
	sendAtOnce = 64          // chats
	firstWait  = time.Second // before a failed row is tried again; doubled each time
	longWait   = 5 * time.Minute
)

// sender empties the outbox: for one chat row by row, in order, for many chats
// at once, as fast as their transports allow. All it must not lose is in the
// store; what it keeps itself is who is next.
type sender struct {
	store   Store
	move    func(ctx context.Context, from, to string) error
	outlets []*outlet

	mu      sync.Mutex
	ready   *sync.Cond       // the queue has one more, or the sender has stopped
	empty   *sync.Cond       // the queue is empty and nothing being sent, or the sender has stopped
	settled *sync.Cond       // something is not being sent any more
	lines   map[string]*line // of the chats it is busy with
	held    map[string]int   // chats that no row of may be sent, by how many
	moves   sync.WaitGroup
	queue   []string // chats of which a row may be sent, longest waiting first
	working int
	started bool
	stopped bool
}

// outlet is a transport with its limit for all chats.
type outlet struct {
	wire.Transport
	all *rate.Limiter
}

// line is one chat's place.
type line struct {
	at    place
	more  bool // rows came while it was at work
	limit *rate.Limiter
}

type place int

const (
	idle    place = iota // nothing to send; kept while its limit matters
	queued               // in the queue
	working              // a row is being sent
	resting              // put off
	parked               // its turn came while it was held
)

func newSender(store Store, move func(ctx context.Context, from, to string) error, transports []wire.Transport) *sender {
	s := &sender{store: store, move: move, lines: map[string]*line{}, held: map[string]int{}}
	s.ready, s.empty, s.settled = sync.NewCond(&s.mu), sync.NewCond(&s.mu), sync.NewCond(&s.mu)
	for _, t := range transports {
		s.outlets = append(s.outlets, &outlet{t, limiter(t.Caps().All)})
	}
	return s
}

func limiter(l wire.Limit) *rate.Limiter {
	if l.Every <= 0 {
		return rate.NewLimiter(rate.Inf, 1)
	}
	return rate.NewLimiter(rate.Every(l.Every), max(l.Burst, 1))
}

// outlet is the one that chats of this name are sent by, nil for none.
func (s *sender) outlet(chat string) *outlet {
	name, _, _ := strings.Cut(chat, ":")
	for _, o := range s.outlets {
		if o.Name() == name {
			return o
		}
	}
	return nil
}

// wake says that a chat may have rows to send. Before the start it does nothing:
// all rows are looked for then.
func (s *sender) wake(chat string) {
	out := s.outlet(chat)
	if out == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.started {
		return
	}
	l := s.lines[chat]
	if l == nil {
		l = &line{limit: limiter(out.Caps().Chat)}
		s.lines[chat] = l
	}
	switch l.at {
	case idle:
		s.enqueue(chat, l)
	case working:
		l.more = true
	}
}

// enqueue is called with the lock held, as are rest and cool.
func (s *sender) enqueue(chat string, l *line) {
	l.at, l.more = queued, false
	s.queue = append(s.queue, chat)
	s.ready.Signal()
}

// rest puts a chat back into the queue after a while.
func (s *sender) rest(chat string, l *line, wait time.Duration) {
	l.at = resting
	time.AfterFunc(wait, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.enqueue(chat, l)
	})
}

// cool forgets a chat without rows as soon as its limit would be at rest too.
func (s *sender) cool(chat string, l *line) {
	if l.at != idle || s.lines[chat] != l {
		return
	}
	lacking := float64(l.limit.Burst()) - l.limit.Tokens()
	if l.limit.Limit() == rate.Inf || lacking <= 0 {
		delete(s.lines, chat)
		return
	}
	time.AfterFunc(time.Duration(lacking/float64(l.limit.Limit())*float64(time.Second))+time.Millisecond, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.cool(chat, l)
	})
}

// start lets the workers work. halt gives what is in the queue a while to go out
// and ends them.
func (s *sender) start(ctx context.Context) (halt func(time.Duration)) {
	ctx, cancel := context.WithCancel(ctx)
	s.mu.Lock()
	s.started = true
	s.mu.Unlock()
	var all sync.WaitGroup
	for range sendAtOnce {
		all.Go(func() { s.work(ctx) })
	}
	return func(grace time.Duration) {
		late := time.AfterFunc(grace, func() { s.stop(); cancel() })
		s.mu.Lock()
		for !s.stopped && (len(s.queue) > 0 || s.working > 0) {
			s.empty.Wait()
		}
		s.mu.Unlock()
		late.Stop()
		s.stop()
		all.Wait()
		s.moves.Wait()
		cancel()
	}
}

func (s *sender) stop() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.stopped = true
	s.ready.Broadcast()
	s.empty.Broadcast()
}

// work sends rows of whichever chat is next until the sender stops.
func (s *sender) work(ctx context.Context) {
	for {
		chat, l := s.take()
		if l == nil {
			return
		}
		next, wait := s.sendOne(ctx, chat, l.limit)
		s.put(chat, l, next, wait)
	}
}

// take waits for the next chat of the queue; nil when the sender has stopped.
func (s *sender) take() (string, *line) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for {
		for len(s.queue) == 0 && !s.stopped {
			s.ready.Wait()
		}
		if s.stopped {
			return "", nil
		}
		chat := s.queue[0]
		s.queue = s.queue[1:]
		l := s.lines[chat]
		if s.held[chat] == 0 {
			l.at = working
			s.working++
			return chat, l
		}
		l.at = parked
		if s.working == 0 && len(s.queue) == 0 {
			s.empty.Broadcast()
		}
	}
}

// hold lets no row of some chats be sent until release is called. It waits until
// what came of a row of theirs on its way is stored.
func (s *sender) hold(ctx context.Context, chats ...string) (release func(), err error) {
	defer context.AfterFunc(ctx, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.settled.Broadcast()
	})()
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, chat := range chats {
		s.held[chat]++
	}
	busy := func(chat string) bool { l := s.lines[chat]; return l != nil && l.at == working }
	for slices.ContainsFunc(chats, busy) && ctx.Err() == nil {
		s.settled.Wait()
	}
	release = func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.release(chats)
	}
	if err := ctx.Err(); err != nil {
		s.release(chats)
		return nil, err
	}
	return release, nil
}

// release is called with the lock held.
func (s *sender) release(chats []string) {
	for _, chat := range chats {
		if s.held[chat]--; s.held[chat] > 0 {
			continue
		}
		delete(s.held, chat)
		if l := s.lines[chat]; l != nil && l.at == parked {
			s.enqueue(chat, l)
		}
	}
}

// put gives a chat its place after a row of it was tried.
func (s *sender) put(chat string, l *line, next place, wait time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.working--
	s.settled.Broadcast()
	switch {
	case next == resting:
		s.rest(chat, l, wait)
	case next == queued || l.more:
		s.enqueue(chat, l)
	default:
		l.at = idle
		s.cool(chat, l)
	}
	if s.working == 0 && len(s.queue) == 0 {
		s.empty.Broadcast()
	}
}

// sendOne tries the oldest row of a chat. It says where the chat goes then and,
// with resting, for how long.
func (s *sender) sendOne(ctx context.Context, chat string, limit *rate.Limiter) (place, time.Duration) {
	row, ok, err := s.store.Next(ctx, chat)
	if err != nil {
		slog.Error("the outbox cannot be read", "chat", chat, "error", err)
		return resting, longWait
	}
	if !ok {
		return idle, 0
	}
	if wait := time.Until(row.NotBefore); wait > 0 {
		return resting, wait
	}
	turn := limit.Reserve()
	if wait := turn.Delay(); wait > 0 {
		turn.Cancel()
		return resting, wait
	}
	out := s.outlet(chat)
	if err := out.all.Wait(ctx); err != nil {
		return resting, 0 // stopped
	}
	id, err := s.send(ctx, out, row)
	return s.settle(ctx, row, id, err)
}

func (s *sender) send(ctx context.Context, out *outlet, row sessions.Row) (string, error) {
	var body wire.Body
	if err := json.Unmarshal(row.Body, &body); err != nil {
		return "", errors.Join(wire.ErrRefused, err)
	}
	if body.InPlace && row.Replaces == "" {
		return "", nil // what it would take the place of was never sent
	}
	body.Event, body.Replaces = row.Event, row.Replaces
	return out.Send(ctx, row.Chat, body)
}

// settle stores what came of sending a row.
func (s *sender) settle(ctx context.Context, row sessions.Row, id string, err error) (place, time.Duration) {
	var retry wire.ErrRetry
	var moved wire.ErrMoved
	switch {
	case err == nil:
		s.surely(ctx, row, func() error { return s.store.Sent(context.WithoutCancel(ctx), row, id) })
	case ctx.Err() != nil: // stopped: the row stays as it is
		return resting, 0
	case errors.Is(err, wire.ErrGone):
		slog.Warn("the chat takes no messages: what waits for it is dropped", "chat", row.Chat)
		s.surely(ctx, row, func() error { return s.store.Drop(ctx, row.Chat) })
	case errors.Is(err, wire.ErrRefused):
		slog.Error("a reply was refused and given up", "chat", row.Chat, "event", row.Event, "error", err)
		s.surely(ctx, row, func() error { return s.store.Sent(ctx, row, row.Replaces) })
	case errors.As(err, &moved) && moved.To != row.Chat && s.outlet(moved.To) != nil:
		s.moves.Go(func() { // it waits until the row is at rest
			s.surely(ctx, row, func() error { return s.move(ctx, row.Chat, moved.To) })
		})
		return resting, firstWait
	default:
		wait := min(firstWait<<min(row.Tries, 20), longWait)
		if errors.As(err, &retry) {
			wait = max(retry.After, 0)
		}
		slog.Warn("not sent yet", "chat", row.Chat, "event", row.Event, "tries", row.Tries+1, "again in", wait, "error", err)
		s.surely(ctx, row, func() error { return s.store.Later(ctx, row, time.Now().Add(wait)) })
	}
	return queued, 0
}

// surely stores what came of a row, however often it must be tried: a row that
// was sent is not sent again because the disk is full.
func (s *sender) surely(ctx context.Context, row sessions.Row, store func() error) {
	for {
		err := store()
		if err == nil {
			return
		}
		slog.Error("what came of a row cannot be stored", "chat", row.Chat, "event", row.Event, "error", err)
		select {
		case <-time.After(firstWait):
		case <-ctx.Done():
			return
		}
	}
}
