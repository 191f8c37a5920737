package sessions

import (
	"bytes"
	"errors"
	"time"

	"go.etcd.io/bbolt"
)

// forget puts all of a chat out of the file, what waits in its outbox and the
// names it had before too, and leaves the marks of its events and moves and the
// answer to this event.
func (c *Change) forget(tx *bbolt.Tx, seq uint64) error {
	before, err := c.forgetNames(tx)
	if err != nil {
		return err
	}
	prefix := name(c.Chat)
	events := map[string][]byte{c.Event: spentRecord(c.At, c.kept())}
	err = withPrefix(tx.Bucket(bucketTold), eventKey(c.Chat, ""), func(k, v []byte) error {
		e := parseEvent(v)
		if _, event, _ := splitEvent(k); e.seen {
			events[event] = spentRecord(e.at, nil)
		}
		return deleteAnswer(tx, e.number)
	})
	if err != nil {
		return err
	}
	for _, chat := range append(before, c.Chat) {
		for event, record := range events {
			if err := putSpent(tx, spentKey(chat, event), record); err != nil {
				return err
			}
		}
	}
	for _, b := range ofChats {
		if err := deletePrefix(tx.Bucket(b), prefix); err != nil {
			return err
		}
	}
	c.For = "" // what it would take the place of is forgotten
	return c.queue(tx, seq)
}

// forgetNames gives the names that the chat had before, and leaves the marks of
// its moves: one told again brings no name back.
func (c *Change) forgetNames(tx *bbolt.Tx) (before []string, err error) {
	moved := tx.Bucket(bucketMoved)
	var moves []Move
	err = moved.ForEach(func(k, v []byte) error {
		from, _, err := splitName(k)
		if err == nil && present(tx, from) == c.Chat {
			before = append(before, from)
			moves = append(moves, Move{From: from, To: string(v)})
		}
		return err
	})
	for _, m := range moves {
		err = errors.Join(err, putSpent(tx, moveKey(m), spentRecord(c.At, nil)), moved.Delete(name(m.From)))
	}
	return before, err
}

// kept is the answer to the event that forgets a chat as far as it is kept: what
// the outbox sends is not needed, and bears an address.
func (c *Change) kept() [][]byte {
	if c.Send {
		return nil
	}
	return c.Bodies
}

// spent takes from the marks what an event of a chat that was forgotten was
// answered with.
func (s *Snapshot) spent(tx *bbolt.Tx, names []string, event string) {
	if v, ok := spentMark(tx, names, event); ok {
		s.Seen = true
		s.Bodies, _ = unpackBodies(v[8:])
	}
}

// spentMark finds the mark of an event under one of the names of its chat, the
// present one first.
func spentMark(tx *bbolt.Tx, names []string, event string) (mark []byte, ok bool) {
	for _, chat := range names {
		key := spentKey(chat, event)
		if v := tx.Bucket(bucketSpent).Get(key[:]); len(v) >= 8 {
			return v, true
		}
	}
	return nil, false
}

func putSpent(tx *bbolt.Tx, key [16]byte, record []byte) error {
	return tx.Bucket(bucketSpent).Put(key[:], record)
}

func spentRecord(at time.Time, bodies [][]byte) []byte {
	return append(appendTime(nil, at), packBodies(bodies)...)
}

// sweepSpent forgets the marks before a time of chats that were forgotten.
func sweepSpent(tx *bbolt.Tx, before time.Time) error {
	var old [][]byte
	b := tx.Bucket(bucketSpent)
	err := b.ForEach(func(k, v []byte) error {
		if ms, _, err := splitNumber(v); err != nil || asTime(ms).Before(before) { // a torn one has no time
			old = append(old, bytes.Clone(k))
		}
		return nil
	})
	if err != nil {
		return err
	}
	return deleteKeys(b, old)
}
