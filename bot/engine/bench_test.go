package engine

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"halfweight/bot/wire"
	"halfweight/sessions"
)

// BenchmarkMessage is the whole path of one message: text to rendered reply,
// in a chat not heard of before.
func BenchmarkMessage(b *testing.B) { newChats(b, wire.In{Text: card}) }

// BenchmarkMessage_asData makes the data contract's object besides.
func BenchmarkMessage_asData(b *testing.B) { newChats(b, wire.In{Text: card, Data: true}) }

// newChats hands the event to one new chat after the other.
func newChats(b *testing.B, event wire.In) {
	b.ReportAllocs()
	e := New(&sessions.Memory{})
	for i := 0; b.Loop(); i++ {
		event.Chat = fmt.Sprint(i)
		if _, err := e.Handle(b.Context(), event); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMessage_inALongTalk is a small change to a load after twenty turns,
// when the state is at its largest.
func BenchmarkMessage_inALongTalk(b *testing.B) {
	b.ReportAllocs()
	store := &sessions.Memory{}
	e := New(store)
	talk := append([]string{card, "gear 6x 3/8 g70 with 9200 binders"}, strings.Split(strings.Repeat("front left is loose,front left tight again,", 10), ",")...)
	for i, text := range talk {
		if _, err := e.Handle(b.Context(), in(fmt.Sprint(i), "a", text)); err != nil {
			b.Fatal(err)
		}
	}
	state, err := store.Look(b.Context(), "a", "")
	if err != nil {
		b.Fatal(err)
	}
	event := wire.In{Chat: "a", Text: "front left is loose"}
	for i := 0; b.Loop(); i++ {
		event.ID = fmt.Sprint("again ", i)
		if _, err := e.Handle(b.Context(), event); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(state.State)), "B/state")
}

// BenchmarkMessage_growth shows how the time grows with the length of the
// message: it must do so about evenly.
func BenchmarkMessage_growth(b *testing.B) {
	for _, of := range []struct{ name, piece string }{{"clauses", "2x 3/8 g70 direct front left, "}, {"noise", "florp blip 17 zzyx. "}} {
		for _, size := range []int{1000, 2000, 4000} {
			text := "14000 lb roller, " + strings.Repeat(of.piece, size/len(of.piece))
			b.Run(fmt.Sprintf("%s/%d", of.name, size), func(b *testing.B) { newChats(b, wire.In{Text: text}) })
		}
	}
}

// BenchmarkRun is a message from a transport to its answer sent, everything in a
// file and written through, from so many chats at once.
func BenchmarkRun(b *testing.B) {
	for _, chats := range []int{1, 100, 10_000} {
		b.Run(fmt.Sprint(chats), func(b *testing.B) {
			store, err := sessions.Open(filepath.Join(b.TempDir(), "store"))
			if err != nil {
				b.Fatal(err)
			}
			defer store.Close()
			t := &flood{chats: chats, messages: make(chan int), sent: make(chan struct{})}
			ctx, stop := context.WithCancel(b.Context())
			ended := make(chan error)
			go func() { ended <- New(store, t).Run(ctx) }()
			all := make(chan struct{})
			handed := 0
			for b.Loop() {
				if handed++; handed > 2*chats { // so many are on the way at most
					<-t.sent
				}
				t.messages <- handed
			}
			go func() {
				for range min(handed, 2*chats) {
					<-t.sent
				}
				close(all)
			}()
			<-all
			b.ReportMetric(float64(handed)/b.Elapsed().Seconds(), "answers/s")
			stop()
			if err := <-ended; err != nil {
				b.Error(err)
			}
		})
	}
}

// flood is a transport of many chats that never rests.
type flood struct {
	chats    int
	messages chan int
	sent     chan struct{}
}

func (*flood) Name() string    { return "tg" }
func (*flood) Caps() wire.Caps { return wire.Caps{} }

func (f *flood) Run(ctx context.Context, deliver func(context.Context, wire.In) ([]wire.Body, error)) error {
	var all sync.WaitGroup
	for range min(f.chats, 256) {
		all.Go(func() {
			for {
				select {
				case n := <-f.messages:
					in := wire.In{ID: fmt.Sprint(n), Chat: fmt.Sprint("tg:", n%f.chats), Text: card}
					if _, err := deliver(ctx, in); err != nil {
						return
					}
				case <-ctx.Done():
					return
				}
			}
		})
	}
	all.Wait()
	return ctx.Err()
}

func (f *flood) Send(context.Context, string, wire.Body) (string, error) {
	f.sent <- struct{}{}
	return "1", nil
}
