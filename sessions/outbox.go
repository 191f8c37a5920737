package sessions

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"time"

	"go.etcd.io/bbolt"
)

// Waiting names the chats that have rows in the outbox.
func (d *DB) Waiting(context.Context) (chats []string, err error) {
	err = d.file.View(func(tx *bbolt.Tx) error {
		rows := tx.Bucket(bucketOut).Cursor()
		for k, _ := rows.First(); k != nil; {
			chat, _, err := splitName(k)
			if err != nil {
				return err
			}
			chats = append(chats, chat)
			k, _ = rows.Seek(bytes.Join([][]byte{name(chat), bytes.Repeat([]byte{0xff}, 11)}, nil)) // behind its rows
		}
		return nil
	})
	return chats, err
}

// Next gives the oldest row of a chat; ok is false when it has none.
func (d *DB) Next(_ context.Context, chat string) (row Row, ok bool, err error) {
	err = d.file.View(func(tx *bbolt.Tx) error {
		prefix := name(chat)
		k, v := tx.Bucket(bucketOut).Cursor().Seek(prefix)
		if !bytes.HasPrefix(k, prefix) {
			return nil
		}
		r, err := parseRow(k, v)
		if err != nil {
			return err
		}
		row, ok = r.Row, true
		row.Body = r.body(tx)
		event, _ := readEvent(tx, chat, row.Event)
		row.Replaces = string(tx.Bucket(bucketSent).Get(sentKey(event.number, row.N)))
		return nil
	})
	return row, ok, err
}

// Sent removes a row that was sent and keeps the id it was sent under, "" for
// none, as long as the event is known. A row that went meanwhile has its id kept
// too: what is sent in its place is to replace it.
func (d *DB) Sent(ctx context.Context, r Row, id string) error {
	return d.mark(ctx, func(tx *bbolt.Tx) error {
		if err := tx.Bucket(bucketOut).Delete(outKey(r.Chat, r.Seq, r.N)); err != nil || id == "" {
			return err
		}
		event, _ := readEvent(tx, r.Chat, r.Event)
		if event.number == 0 {
			return nil // swept, or forgotten
		}
		return putSent(tx, event.number, r.N, []byte(id))
	})
}

// Later puts a row off, and counts the try.
func (d *DB) Later(ctx context.Context, r Row, notBefore time.Time) error {
	return d.commit(ctx, func(tx *bbolt.Tx) error {
		out, key := tx.Bucket(bucketOut), outKey(r.Chat, r.Seq, r.N)
		record := out.Get(key)
		if record == nil {
			return nil // superseded or dropped meanwhile
		}
		now, err := parseRow(key, record)
		if err != nil {
			return err
		}
		return out.Put(key, outRecord(notBefore, r.Tries+1, now.Event, now.own, now.Body))
	})
}

// Drop removes all rows of a chat.
func (d *DB) Drop(ctx context.Context, chat string) error {
	return d.commit(ctx, func(tx *bbolt.Tx) error { return deletePrefix(tx.Bucket(bucketOut), name(chat)) })
}

// Move gives all that is known of one chat to another name, and what comes under
// the old name later goes to the new one. What was answered under the old name
// counts as older. Where that was sent is not taken along: the transport's ids
// are the old chat's own. No row of either may be on its way. A chat that moved
// before is left alone.
func (d *DB) Move(ctx context.Context, m Move) error {
	return d.commit(ctx, m.put)
}

func (m Move) put(tx *bbolt.Tx) error {
	moved, heard := tx.Bucket(bucketMoved), heard(tx, m.From)
	if m.From == m.To || moved.Get(name(m.From)) != nil {
		return nil
	}
	if key := moveKey(m); !heard && tx.Bucket(bucketSpent).Get(key[:]) != nil {
		return nil // told again: that chat was forgotten
	}
	if err := moved.Delete(name(m.To)); err != nil {
		return err
	}
	if err := moved.Put(name(m.From), []byte(m.To)); err != nil || !heard {
		return err // where nothing is known under it yet, what still comes is for the new name
	}
	for _, take := range []func(*bbolt.Tx) error{m.rows, m.events, m.log, m.state, m.aside} {
		if err := take(tx); err != nil {
			return err
		}
	}
	return nil
}

// rows puts the rows of the old name before those of the new one, which get new
// numbers.
func (m Move) rows(tx *bbolt.Tx) error {
	for _, chat := range []string{m.From, m.To} {
		if err := takeBodies(tx, chat); err != nil {
			return err
		}
	}
	out, to := tx.Bucket(bucketOut), name(m.To)
	var was, is uint64
	var failed error
	err := rewrite(out, to, func(k, v []byte) ([]byte, []byte) {
		if seq, _, err := splitNumber(k[len(to):]); err == nil {
			if seq != was {
				was = seq
				is, failed = nextNumber(tx)
			}
			binary.BigEndian.PutUint64(k[len(to):], is)
		}
		return k, v
	})
	return errors.Join(err, failed, m.rename(out))
}

// events takes over what was seen under the old name, and puts out where the
// answers were sent. One that both names know keeps the answer of the old one,
// and where that of the new one was sent.
func (m Move) events(tx *bbolt.Tx) error {
	told, prefix := tx.Bucket(bucketTold), eventKey(m.From, "")
	was := map[string]eventRecord{}
	withPrefix(told, prefix, func(k, v []byte) error {
		was[string(k[len(prefix):])] = parseEvent(v)
		return nil
	})
	for event, e := range was {
		err := errors.Join(deletePrefix(tx.Bucket(bucketSent), numberKey(e.number)), told.Delete(eventKey(m.From, event)))
		is, known := readEvent(tx, m.To, event)
		switch {
		case known && (!e.seen || e.number == 0):
			e = is
		case known:
			err = errors.Join(err, renumberSent(tx, is.number, e.number), deleteAnswer(tx, is.number))
		}
		if err = errors.Join(err, putEvent(tx, m.To, event, e)); err != nil {
			return err
		}
	}
	return nil
}

// log takes over the log where the new name has no state, and else puts it out.
func (m Move) log(tx *bbolt.Tx) error {
	log := tx.Bucket(bucketLog)
	take := m.rename
	if len(readState(tx, m.To)) > 0 {
		take = func(b *bbolt.Bucket) error { return deletePrefix(b, name(m.From)) }
	}
	return errors.Join(take(log), writeLog(tx, m.To, m.Log))
}

// state is the one of the move, or else of the new name, or else of the old one.
func (m Move) state(tx *bbolt.Tx) error {
	told, state := tx.Bucket(bucketTold), m.State
	if len(state) == 0 && len(readState(tx, m.To)) == 0 {
		state = bytes.Clone(readState(tx, m.From))
	}
	if len(state) > 0 {
		if err := told.Put(stateKey(m.To), state); err != nil {
			return err
		}
	}
	return told.Delete(stateKey(m.From))
}

func (m Move) aside(tx *bbolt.Tx) error {
	aside := tx.Bucket(bucketAside)
	err := m.rename(aside)
	if m.Aside != nil {
		err = errors.Join(err, aside.Put(asideKey(m.To, m.From), m.Aside))
	}
	return err
}

// rename gives what a bucket has under the old name to the new one.
func (m Move) rename(b *bbolt.Bucket) error {
	return rewrite(b, name(m.From), func(k, v []byte) ([]byte, []byte) {
		return append(name(m.To), k[len(name(m.From)):]...), v
	})
}

// rewrite puts what as makes of it in the place of every entry whose key begins
// with prefix. as may write to what it is given.
func rewrite(b *bbolt.Bucket, prefix []byte, as func(k, v []byte) ([]byte, []byte)) error {
	var entries [][2][]byte
	withPrefix(b, prefix, func(k, v []byte) error {
		entries = append(entries, [2][]byte{bytes.Clone(k), bytes.Clone(v)})
		return nil
	})
	for _, e := range entries {
		if err := b.Delete(e[0]); err != nil {
			return err
		}
	}
	for _, e := range entries {
		k, v := as(e[0], e[1])
		if err := b.Put(k, v); err != nil {
			return err
		}
	}
	return nil
}
