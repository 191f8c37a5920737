package sessions

import (
	"bytes"
	"context"
	"time"

	"go.etcd.io/bbolt"
)

// sweepBatch is how many events are looked at between two breaths, so that no
// reader is held and no transaction is large.
const sweepBatch = 500

// Sweep forgets that events before a time were seen, what they were answered and
// where that was sent. The state of their chats stays, and so does the outbox.
func (d *DB) Sweep(ctx context.Context, before time.Time) error {
	for from := []byte{}; from != nil; {
		old, next, err := d.seenBefore(before, from)
		if err != nil {
			return err
		}
		if len(old) > 0 {
			if err := d.commit(ctx, func(tx *bbolt.Tx) error { return sweep(tx, old, before) }); err != nil {
				return err
			}
		}
		from = next
	}
	return d.commit(ctx, func(tx *bbolt.Tx) error { return sweepSpent(tx, before) })
}

// seenBefore looks at a batch of events from a key on. It gives the keys of the
// old ones and the key to go on from, nil at the end.
func (d *DB) seenBefore(before time.Time, from []byte) (old [][]byte, next []byte, err error) {
	err = d.file.View(func(tx *bbolt.Tx) error {
		told := tx.Bucket(bucketTold).Cursor()
		k, v := told.Seek(from)
		for n := 0; k != nil && n < sweepBatch; n++ {
			if _, _, ok := splitEvent(k); ok && parseEvent(v).at.Before(before) { // a torn one has no time
				old = append(old, bytes.Clone(k))
			}
			k, v = told.Next()
		}
		next = bytes.Clone(k)
		return nil
	})
	return old, next, err
}

func sweep(tx *bbolt.Tx, keys [][]byte, before time.Time) error {
	told, last := tx.Bucket(bucketTold), ""
	for i, key := range keys {
		e := parseEvent(told.Get(key))
		if !e.at.Before(before) {
			continue // it was seen meanwhile
		}
		if chat, _, _ := splitEvent(key); i == 0 || chat != last {
			if err := takeBodies(tx, chat); err != nil {
				return err
			}
			last = chat
		}
		if err := deleteAnswer(tx, e.number); err != nil {
			return err
		}
		if err := told.Delete(key); err != nil {
			return err
		}
	}
	return nil
}
