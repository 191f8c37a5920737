package sessions

import (
	"bytes"
	"encoding/binary"
	"time"

	"go.etcd.io/bbolt"
)

// forget puts all of a chat out of the file, what waits in its outbox too, and
// leaves the marks of its events and the answer to this one.
func (c *Change) forget(tx *bbolt.Tx, seq uint64) error {
	prefix, spent := name(c.Chat), tx.Bucket(bucketSpent)
	events := map[string][]byte{c.Event: spentRecord(c.At, c.Bodies)}
	err := withPrefix(tx.Bucket(bucketSeen), prefix, func(k, v []byte) error {
		seen, err := parseSeen(v)
		events[string(k[len(prefix):])] = spentRecord(seen.at, nil)
		return err
	})
	if err != nil {
		return err
	}
	for event, record := range events {
		key := spentKey(c.Chat, event)
		if err := spent.Put(key[:], record); err != nil {
			return err
		}
	}
	for _, b := range [][]byte{bucketChat, bucketSeen, bucketAnswer, bucketOut, bucketSent, bucketLog} {
		if err := deletePrefix(tx.Bucket(b), prefix); err != nil {
			return err
		}
	}
	c.For = "" // what it would take the place of is forgotten
	return c.queue(tx, seq)
}

// spent gives what an event of a chat that was forgotten was answered with.
func (s *Snapshot) spent(tx *bbolt.Tx, chat, event string) (err error) {
	key := spentKey(chat, event)
	if v := tx.Bucket(bucketSpent).Get(key[:]); len(v) >= 8 {
		s.Seen = true
		s.Bodies, err = unpackBodies(v[8:])
	}
	return err
}

func spentRecord(at time.Time, bodies [][]byte) []byte {
	return append(appendTime(nil, at), packBodies(bodies)...)
}

// lastWaiting is the seq of the last row of a chat's outbox, 0 where it has none.
func lastWaiting(tx *bbolt.Tx, chat string) (seq uint64) {
	prefix := name(chat)
	withPrefix(tx.Bucket(bucketOut), prefix, func(k, _ []byte) error {
		seq = binary.BigEndian.Uint64(k[len(prefix):])
		return nil
	})
	return seq
}

// sweepSpent forgets the marks before a time of chats that were forgotten.
func sweepSpent(tx *bbolt.Tx, before time.Time) error {
	var old [][]byte
	b := tx.Bucket(bucketSpent)
	err := b.ForEach(func(k, v []byte) error {
		ms, _, err := splitNumber(v)
		if err == nil && asTime(ms).Before(before) {
			old = append(old, bytes.Clone(k))
		}
		return err
	})
	if err != nil {
		return err
	}
	return deleteKeys(b, old)
}
