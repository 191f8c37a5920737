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
	file    *bbolt.DB
	jobs    chan job
	closing chan struct{}
	closed  chan struct{}
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
	d := &DB{file: file, jobs: make(chan job), closing: make(chan struct{}), closed: make(chan struct{})}
	go d.committer()
	return d, nil
}

// Close waits for what is being written and closes the file. It is called once.
func (d *DB) Close() error {
	close(d.closing)
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
		if now := present(tx, chat); now != chat {
			chat, s.MovedTo = now, now
		}
		if c := readChat(tx, chat); len(c.state) > 0 {
			s.State = bytes.Clone(c.state)
		}
		mark := tx.Bucket(bucketSeen).Get(seenKey(chat, event))
		if mark == nil {
			return nil
		}
		s.Seen = true
		if seen, err := parseSeen(mark); err == nil {
			s.Bodies, _ = unpackBodies(tx.Bucket(bucketAnswer).Get(answerKey(chat, seen.seq)))
		}
		return nil
	})
	return s, err
}

// Commit stores a change, under the name the chat goes by now. An event already
// seen keeps its first answer, and the whole change is dropped.
func (d *DB) Commit(ctx context.Context, c Change) error {
	for _, s := range []string{c.Chat, c.Event, c.For} {
		if len(s) > MaxName {
			return fmt.Errorf("the name %.40q... is longer than %d bytes", s, MaxName)
		}
	}
	return d.commit(ctx, c.put)
}

func (c Change) put(tx *bbolt.Tx) error {
	c.Chat = present(tx, c.Chat)
	seen, key := tx.Bucket(bucketSeen), seenKey(c.Chat, c.Event)
	if seen.Get(key) != nil {
		return nil
	}
	chat := readChat(tx, c.Chat)
	if c.Forget {
		for _, b := range [][]byte{bucketAnswer, bucketSent, bucketAside} {
			if err := deletePrefix(tx.Bucket(b), name(c.Chat)); err != nil {
				return err
			}
		}
	}
	if c.Aside != nil {
		if err := tx.Bucket(bucketAside).Put(asideKey(c.Chat, c.Event), c.Aside); err != nil {
			return err
		}
	}
	chat.seq++
	if len(c.State) > 0 {
		chat.state = c.State
	}
	if err := tx.Bucket(bucketChat).Put(name(c.Chat), chat.bytes()); err != nil {
		return err
	}
	if err := seen.Put(key, seenRecord{chat.seq, c.At}.bytes()); err != nil {
		return err
	}
	if err := tx.Bucket(bucketAnswer).Put(answerKey(c.Chat, chat.seq), packBodies(c.Bodies)); err != nil {
		return err
	}
	if !c.Send {
		return nil
	}
	put := func(n int, body []byte) error {
		return tx.Bucket(bucketOut).Put(outKey(c.Chat, chat.seq, n), outRecord(time.Time{}, 0, c.answers(), body))
	}
	for n, body := range c.Bodies {
		if err := put(n, body); err != nil {
			return err
		}
	}
	over, err := c.supersede(tx, chat.seq)
	if err != nil || c.Rest == nil {
		return err
	}
	for _, n := range over {
		if err := put(n, c.Rest); err != nil {
			return err
		}
	}
	return nil
}

// supersede takes the rows of the earlier answer to For out of the outbox, and
// gives the numbers of its bodies, sent or not, that Bodies leave over.
func (c *Change) supersede(tx *bbolt.Tx, seq uint64) (over []int, err error) {
	if c.For == "" {
		return nil, nil
	}
	left := func(n int) {
		if n >= len(c.Bodies) && !slices.Contains(over, n) {
			over = append(over, n)
		}
	}
	var old [][]byte
	out, sent := tx.Bucket(bucketOut), tx.Bucket(bucketSent)
	err = withPrefix(out, name(c.Chat), func(k, v []byte) error {
		r, err := parseRow(k, v)
		if err == nil && r.Event == c.For && r.Seq != seq {
			old = append(old, bytes.Clone(k))
			left(r.N)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	prefix := sentKey(c.Chat, c.For)
	withPrefix(sent, prefix, func(k, _ []byte) error {
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
