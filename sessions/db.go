package sessions

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"

	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

// lockWait is how long Open waits for a program that is just ending.
const lockWait = time.Second

// ErrInUse is a file that another program has open.
var ErrInUse = errors.New("another program has this file open: stop that one first, or give this one a file of its own")

// DB is a store in a file. Make one with Open.
type DB struct {
	file   *bbolt.DB
	jobs   jobs
	closed chan struct{}
}

// Open opens the store in a file, made where there is none, and brings it to the
// present version. One program can have a file open at a time: ErrInUse.
func Open(path string) (*DB, error) {
	file, err := bbolt.Open(path, 0o600, &bbolt.Options{Timeout: lockWait, FreelistType: bbolt.FreelistMapType})
	if errors.Is(err, bolterrors.ErrTimeout) {
		err = ErrInUse
	}
	if err != nil {
		return nil, fmt.Errorf("open the store %q: %w", path, err)
	}
	if err := file.Update(migrate); err != nil {
		return nil, errors.Join(fmt.Errorf("open the store %q: %w", path, err), file.Close())
	}
	d := &DB{file: file, jobs: jobs{changed: make(chan struct{}, 1)}, closed: make(chan struct{})}
	go d.committer()
	return d, nil
}

// Close waits for what is being written and closes the file. It is called once.
func (d *DB) Close() error {
	d.jobs.close()
	<-d.closed
	return d.file.Close()
}

// Check reads the whole file and says what does not hang together in it.
func (d *DB) Check() error {
	return d.file.View(func(tx *bbolt.Tx) error {
		var all []error
		for err := range tx.Check() {
			all = append(all, err)
		}
		return errors.Join(all...)
	})
}

// WriteTo copies the store as it is now; the copy is a store. It goes on being
// written to meanwhile, but where the file must grow that waits for the copy: w
// must not be slow.
func (d *DB) WriteTo(w io.Writer) (n int64, err error) {
	err = d.file.View(func(tx *bbolt.Tx) error {
		n, err = tx.WriteTo(w)
		return err
	})
	return n, err
}

// Look gives what is known of a chat and of one event of it.
func (d *DB) Look(_ context.Context, chat, event string) (s Snapshot, err error) {
	err = d.file.View(func(tx *bbolt.Tx) error {
		all := names(tx, chat)
		if now := all[len(all)-1]; now != chat {
			chat, s.MovedTo = now, now
		}
		if state := readState(tx, chat); len(state) > 0 {
			s.State = bytes.Clone(state)
		}
		if e, _ := readEvent(tx, chat, event); e.seen {
			s.Seen = true
			s.Bodies, _ = unpackBodies(readBodies(tx, e.number))
			return nil
		}
		s.spent(tx, all, event)
		return nil
	})
	return s, err
}

// Log gives the records of a chat in the order of their numbers.
func (d *DB) Log(_ context.Context, chat string) (entries []Entry, err error) {
	prefix := name(chat)
	err = d.file.View(func(tx *bbolt.Tx) error {
		return withPrefix(tx.Bucket(bucketLog), prefix, func(k, v []byte) error {
			n, _, err := splitNumber(k[len(prefix):])
			entries = append(entries, Entry{N: n, Bytes: bytes.Clone(v)})
			return err
		})
	})
	return entries, err
}

// Commit stores a change, under the name the chat goes by now. An event already
// seen keeps its first answer, and the whole change is dropped.
func (d *DB) Commit(ctx context.Context, c Change) error {
	for _, s := range []string{c.Chat, c.Event, c.For} {
		if len(s) > MaxName {
			d.Expect(-1)
			return fmt.Errorf("the name %.40q... is longer than %d bytes", s, MaxName)
		}
	}
	return d.hand(ctx, job{do: c.put, expected: true})
}

func (c Change) put(tx *bbolt.Tx) error {
	all := names(tx, c.Chat)
	c.Chat = all[len(all)-1]
	event, _ := readEvent(tx, c.Chat, c.Event)
	if _, spent := spentMark(tx, all, c.Event); spent || event.seen {
		return nil
	}
	seq, err := nextNumber(tx)
	if err != nil {
		return err
	}
	if c.Forget {
		return c.forget(tx, seq)
	}
	if c.Aside != nil {
		if err := tx.Bucket(bucketAside).Put(asideKey(c.Chat, c.Event), c.Aside); err != nil {
			return err
		}
	}
	if len(c.State) > 0 {
		if err := tx.Bucket(bucketTold).Put(stateKey(c.Chat), c.State); err != nil {
			return err
		}
	}
	if event.number > 0 { // an edit of it came first
		if err := renumberSent(tx, event.number, seq); err != nil {
			return err
		}
	}
	if err := putEvent(tx, c.Chat, c.Event, eventRecord{seq, c.At, true}); err != nil {
		return err
	}
	if err := putBodies(tx, seq, packBodies(c.Bodies)); err != nil {
		return err
	}
	if err := writeLog(tx, c.Chat, c.Log); err != nil {
		return err
	}
	return c.queue(tx, seq)
}

// queue puts the bodies into the outbox, where they are to be sent.
func (c *Change) queue(tx *bbolt.Tx, seq uint64) error {
	if !c.Send {
		return nil
	}
	put := func(n int, own bool, body []byte) error {
		return tx.Bucket(bucketOut).Put(outKey(c.Chat, seq, n), outRecord(time.Time{}, 0, c.answers(), own, body))
	}
	over, err := c.supersede(tx)
	if err != nil {
		return err
	}
	for n, body := range c.Bodies {
		if err := put(n, c.Forget, body); err != nil { // the answer to one that forgets is nowhere else
			return err
		}
	}
	if c.Rest == nil {
		return nil
	}
	for _, n := range over {
		if err := put(n, true, c.Rest); err != nil {
			return err
		}
	}
	return nil
}

// writeLog writes records of a chat's log and takes those without bytes out of it.
func writeLog(tx *bbolt.Tx, chat string, log []Entry) error {
	b := tx.Bucket(bucketLog)
	for _, e := range log {
		key := logKey(chat, e.N)
		if e.Bytes == nil {
			if err := b.Delete(key); err != nil {
				return err
			}
			continue
		}
		if err := b.Put(key, e.Bytes); err != nil {
			return err
		}
	}
	return nil
}

// supersede takes the rows of the earlier answer to For out of the outbox, and
// gives the numbers of its bodies, sent or not, that Bodies leave over.
func (c *Change) supersede(tx *bbolt.Tx) (over []int, err error) {
	if c.For == "" {
		return nil, nil
	}
	left := func(n int) {
		if n >= len(c.Bodies) && !slices.Contains(over, n) {
			over = append(over, n)
		}
	}
	var old [][]byte
	out := tx.Bucket(bucketOut)
	err = withPrefix(out, name(c.Chat), func(k, v []byte) error {
		r, err := parseRow(k, v)
		if err == nil && r.Event == c.For {
			old = append(old, bytes.Clone(k))
			left(r.N)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	event, known := readEvent(tx, c.Chat, c.For)
	if !known { // it gets a record all the same, for where its answer is sent
		if event.number, err = nextNumber(tx); err != nil {
			return nil, err
		}
		event.at = c.At
		if err := putEvent(tx, c.Chat, c.For, event); err != nil {
			return nil, err
		}
	}
	prefix := numberKey(event.number)
	withPrefix(tx.Bucket(bucketSent), prefix, func(k, _ []byte) error {
		if n := k[len(prefix):]; len(n) == 2 {
			left(int(binary.BigEndian.Uint16(n)))
		}
		return nil
	})
	slices.Sort(over)
	return over, deleteKeys(out, old)
}

// Aside gives all states that were put aside.
func (d *DB) Aside(context.Context) (list []Aside, err error) {
	err = d.file.View(func(tx *bbolt.Tx) error {
		return tx.Bucket(bucketAside).ForEach(func(k, v []byte) error {
			chat, why, err := splitName(k)
			list = append(list, Aside{chat, string(why), bytes.Clone(v)})
			return err
		})
	})
	return list, err
}
