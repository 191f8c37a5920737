package engine

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"halfweight/bot/wire"
)

const (
	kept       = 7 * 24 * time.Hour // how long an event delivered again is known
	sweepEvery = 6 * time.Hour
	lastWord   = 5 * time.Second // for what is still to send when Run ends
)

// Run lets the transports bring in events and sends what waits in the outbox,
// until the context ends or a transport gives up. It ends when what came in was
// handled and what could be sent was sent; the rest goes out at the next start.
// It is called once.
func (e *Engine) Run(ctx context.Context) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	halt := e.sender.start(context.WithoutCancel(ctx))
	defer halt(lastWord)
	waiting, err := e.store.Waiting(ctx)
	if err != nil {
		return fmt.Errorf("look into the outbox: %w", err)
	}
	for _, chat := range waiting {
		e.sender.wake(chat)
	}
	var all sync.WaitGroup
	all.Go(func() { e.sweep(ctx) })
	failed := make([]error, len(e.sender.outlets))
	for i, out := range e.sender.outlets {
		all.Go(func() {
			defer stop()
			if err := out.Run(ctx, e.deliver); err != nil && ctx.Err() == nil {
				failed[i] = fmt.Errorf("receive from %s: %w", out.Name(), err)
			}
		})
	}
	all.Wait()
	return errors.Join(failed...)
}

func (e *Engine) deliver(ctx context.Context, in wire.In) ([]wire.Body, error) {
	r, err := e.Handle(ctx, in)
	return r.Bodies, err
}

// sweep forgets old events now and then.
func (e *Engine) sweep(ctx context.Context) {
	next := time.NewTicker(sweepEvery)
	defer next.Stop()
	for {
		if err := e.store.Sweep(ctx, time.Now().Add(-kept)); err != nil && ctx.Err() == nil {
			slog.Error("old events were not swept", "error", err)
		}
		select {
		case <-next.C:
		case <-ctx.Done():
			return
		}
	}
}
