package sessions

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

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

// BenchmarkOpen opens a file of 100,000 chats with ten rows of gear each, which
// must take less than a second and 64 MB of heap.
func BenchmarkOpen(b *testing.B) {
	if testing.Short() {
		b.Skip("it makes a file of some hundred MB")
	}
	type row struct {
		Count int            `json:"count"`
		Tie   map[string]any `json:"tie"`
	}
	gear := make([]row, 10)
	for i := range gear {
		gear[i] = row{i + 1, map[string]any{"material": "chain", "size": "3/8", "grade": 70, "mark": fmt.Sprint("chain ", i), "tensioner": "binder", "rating": 9200}}
	}
	state, err := json.Marshal(map[string]any{"v": 1, "gear": gear})
	must(b, err)
	path := filepath.Join(b.TempDir(), "store")
	d, err := Open(path)
	must(b, err)
	d.file.NoSync = true
	const chats, group = 100_000, 1000
	for from := 0; from < chats; from += group {
		must(b, d.file.Update(func(tx *bbolt.Tx) error {
			for i := range group {
				c := Change{Chat: fmt.Sprint("tg:", from+i), Event: "1", At: noon, State: state, Bodies: bodies("Gear, all told: ten rows.")}
				if err := c.put(tx); err != nil {
					return err
				}
			}
			return nil
		}))
	}
	must(b, d.file.Sync())
	must(b, d.Close())

	var before, after runtime.MemStats
	for b.Loop() {
		runtime.GC()
		runtime.ReadMemStats(&before)
		start := time.Now()
		d, err := Open(path)
		must(b, err)
		look(b, d, "tg:99999", "1")
		took := time.Since(start)
		runtime.ReadMemStats(&after)
		heap := float64(after.HeapAlloc-before.HeapAlloc) / (1 << 20)
		b.ReportMetric(heap, "MB-heap")
		if took > time.Second || heap > 64 {
			b.Errorf("opened in %v with %.1f MB of heap", took, heap)
		}
		must(b, d.Close())
	}
}
