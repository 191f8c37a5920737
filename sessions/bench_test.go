package sessions

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"sync"
	"testing"

	"go.etcd.io/bbolt"
)

// BenchmarkCommit is a durable change of 400 bytes and its answer, from so many
// chats at once: through the committer, and each in a transaction of its own.
func BenchmarkCommit(b *testing.B) {
	state, answer := make([]byte, 400), bodies(string(make([]byte, 400)))
	for _, chats := range []int{1, 16, 128} {
		grouped := func(d *DB, c Change) error { return d.Commit(context.Background(), c) }
		single := func(d *DB, c Change) error { return d.file.Update(c.put) }
		for _, way := range []struct {
			name   string
			commit func(*DB, Change) error
		}{{"grouped", grouped}, {"single", single}} {
			b.Run(fmt.Sprintf("%s/%d", way.name, chats), func(b *testing.B) {
				d, err := Open(filepath.Join(b.TempDir(), "store"))
				must(b, err)
				defer d.Close()
				next := make(chan int)
				var all sync.WaitGroup
				for chat := range chats {
					all.Go(func() {
						for n := range next {
							c := Change{Chat: fmt.Sprint("tg:", chat), Event: fmt.Sprint(n), At: noon, State: state, Bodies: answer, Send: true}
							if err := way.commit(d, c); err != nil {
								b.Error(err)
							}
						}
					})
				}
				for n := 0; b.Loop(); n++ {
					next <- n
				}
				close(next)
				all.Wait()
				b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "commits/s")
			})
		}
	}
}

// BenchmarkAnswered is all that the store does for one message, from so many chats
// of which 128 are at it at once: looked up, stored, read from the outbox and
// marked. It tells how many pages are written for it.
func BenchmarkAnswered(b *testing.B) {
	state, answer := make([]byte, 700), bodies(string(make([]byte, 600)))
	for _, chats := range []int{100, 10_000} {
		b.Run(fmt.Sprint(chats), func(b *testing.B) {
			d, err := Open(filepath.Join(b.TempDir(), "store"))
			must(b, err)
			defer d.Close()
			ctx := context.Background()
			message := func(n int) error {
				chat, event := fmt.Sprint("tg:", 1000_000+n*7919%chats), fmt.Sprint(100_000+n)
				d.Expect(1)
				_, err := d.Look(ctx, chat, event)
				err = errors.Join(err, d.Commit(ctx, Change{Chat: chat, Event: event, At: noon, State: state, Bodies: answer, Send: true}))
				row, ok, failed := d.Next(ctx, chat)
				if !ok {
					return errors.Join(err, failed)
				}
				return errors.Join(err, failed, d.Sent(ctx, row, event))
			}
			next := make(chan int)
			var all sync.WaitGroup
			for range 128 {
				all.Go(func() {
					for n := range next {
						if err := message(n); err != nil {
							b.Error(err)
						}
					}
				})
			}
			for n := 0; b.Loop(); n++ {
				next <- n
			}
			close(next)
			all.Wait()
			writes := d.file.Stats().TxStats
			b.ReportMetric(float64(writes.GetWrite())/float64(b.N), "writes/op")
		})
	}
}

// BenchmarkOpen opens a file of 100,000 chats with ten rows of gear each.
func BenchmarkOpen(b *testing.B) {
	path := crowd(b, 100_000)
	for b.Loop() {
		d, err := Open(path)
		must(b, err)
		look(b, d, "tg:99999", "1")
		must(b, d.Close())
	}
}

// What a file of 100,000 chats with ten rows of gear each takes of the heap while it
// is open and has been asked for a chat, and what opening it takes in all.
func TestOpen_manyChatsTakeLittleHeap(t *testing.T) {
	if testing.Short() {
		t.Skip("it makes a file of some hundred MB")
	}
	path := crowd(t, 100_000)
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	d, err := Open(path)
	must(t, err)
	defer d.Close()
	look(t, d, "tg:99999", "1")
	waiting, err := d.Waiting(t.Context())
	must(t, err)
	runtime.ReadMemStats(&after)
	const most = 64 << 20
	made := after.TotalAlloc - before.TotalAlloc // and none of it cleared away
	if made > most || len(waiting) != 0 {
		t.Errorf("it took %.1f MB of heap, want %d at most; %d chats wait", float64(made)/(1<<20), most>>20, len(waiting))
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	t.Logf("%.1f MB made, %.1f MB kept", float64(made)/(1<<20), (float64(after.HeapAlloc)-float64(before.HeapAlloc))/(1<<20))
}

// crowd makes a file of so many chats with ten rows of gear each.
func crowd(tb testing.TB, chats int) (path string) {
	tb.Helper()
	type row struct {
		Count int            `json:"count"`
		Tie   map[string]any `json:"tie"`
	}
	gear := make([]row, 10)
	for i := range gear {
		gear[i] = row{i + 1, map[string]any{"material": "chain", "size": "3/8", "grade": 70, "mark": fmt.Sprint("chain ", i), "tensioner": "binder", "rating": 9200}}
	}
	state, err := json.Marshal(map[string]any{"v": 1, "gear": gear})
	must(tb, err)
	path = filepath.Join(tb.TempDir(), "store")
	d, err := Open(path)
	must(tb, err)
	d.file.NoSync = true
	const group = 1000
	for from := 0; from < chats; from += group {
		must(tb, d.file.Update(func(tx *bbolt.Tx) error {
			for i := range group {
				c := Change{Chat: fmt.Sprint("tg:", from+i), Event: "1", At: noon, State: state, Bodies: bodies("Gear, all told: ten rows.")}
				if err := c.put(tx); err != nil {
					return err
				}
			}
			return nil
		}))
	}
	must(tb, d.file.Sync())
	must(tb, d.Close())
	return path
}
