package sessions

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
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
		c, err := readChat(tx, chat)
		if err != nil {
			return err
		}
		if len(c.state) > 0 {
			s.State = bytes.Clone(c.state)
		}
		mark := tx.Bucket(bucketSeen).Get(seenKey(chat, event))
		if mark == nil {
			return s.spent(tx, chat, event)
		}
		s.Seen = true
		seen, err := parseSeen(mark)
		if err != nil {
			return err
		}
		s.Bodies, err = unpackBodies(tx.Bucket(bucketAnswer).Get(answerKey(chat, seen.seq)))
		return err
	})
	return s, err
}

// Log gives the records of a chat, oldest first.
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

// Commit stores a change. An event already seen keeps its first answer, and the
// whole change is dropped.
func (d *DB) Commit(ctx context.Context, c Change) error {
	for _, s := range []string{c.Chat, c.Event, c.For} {
		if len(s) > maxName {
			return fmt.Errorf("the name %.40q... is longer than %d bytes", s, maxName)
		}
	}
	return d.commit(ctx, c.put)
}

func (c *Change) put(tx *bbolt.Tx) error {
	seen, key := tx.Bucket(bucketSeen), seenKey(c.Chat, c.Event)
	spent := spentKey(c.Chat, c.Event)
	if seen.Get(key) != nil || tx.Bucket(bucketSpent).Get(spent[:]) != nil {
		return nil
	}
	chat, err := readChat(tx, c.Chat)
	if err != nil {
		return err
	}
	if chat.seq == 0 {
		chat.seq = lastWaiting(tx, c.Chat)
	}
	chat.seq++
	if c.Forget {
		return c.forget(tx, chat.seq)
	}
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
	for _, e := range c.Log {
		if err := putOrDelete(tx.Bucket(bucketLog), logKey(c.Chat, e.N), e.Bytes); err != nil {
			return err
		}
	}
	return c.queue(tx, chat.seq)
}

// queue puts the bodies into the outbox, where they are to be sent.
func (c *Change) queue(tx *bbolt.Tx, seq uint64) error {
	if !c.Send {
		return nil
	}
	for n, body := range c.Bodies {
		row := outRecord(time.Time{}, 0, c.answers(), body)
		if err := tx.Bucket(bucketOut).Put(outKey(c.Chat, seq, n), row); err != nil {
			return err
		}
	}
	return nil
}

func putOrDelete(b *bbolt.Bucket, key, value []byte) error {
	if value == nil {
		return b.Delete(key)
	}
	return b.Put(key, value)
}
