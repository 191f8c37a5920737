package sessions

import (
	"bytes"
	"context"
	"encoding/binary"
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
		ok = true
		var err error
		row, err = parseRow(k, v)
		row.Replaces = string(tx.Bucket(bucketSent).Get(sentKey(chat, row.Event, row.N)))
		return err
	})
	return row, ok, err
}

// Sent removes a row that was sent and keeps the id it was sent under, "" for
// none. A row that went meanwhile has its id kept too: what is sent in its place
// is to replace it.
func (d *DB) Sent(ctx context.Context, r Row, id string) error {
	return d.commit(ctx, func(tx *bbolt.Tx) error {
		out, key := tx.Bucket(bucketOut), outKey(r.Chat, r.Seq, r.N)
		if out.Get(key) == nil && readChat(tx, r.Chat).seq == 0 {
			return nil // nobody's
		}
		if err := out.Delete(key); err != nil || id == "" {
			return err
		}
		return tx.Bucket(bucketSent).Put(sentKey(r.Chat, r.Event, r.N), []byte(id))
	})
}

// Later puts a row off, and counts the try.
func (d *DB) Later(ctx context.Context, r Row, notBefore time.Time) error {
	return d.commit(ctx, func(tx *bbolt.Tx) error {
		out, key := tx.Bucket(bucketOut), outKey(r.Chat, r.Seq, r.N)
		if out.Get(key) == nil {
			return nil // superseded or dropped meanwhile
		}
		return out.Put(key, outRecord(notBefore, r.Tries+1, r.Event, r.Body))
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
	was, moved := readChat(tx, m.From), tx.Bucket(bucketMoved)
	if m.From == m.To || moved.Get(name(m.From)) != nil {
		return nil
	}
	if err := moved.Delete(name(m.To)); err != nil {
		return err
	}
	if err := moved.Put(name(m.From), []byte(m.To)); err != nil || was.seq == 0 {
		return err // where nothing is known under it yet, what still comes is for the new name
	}
	if err := m.merge(tx, was, readChat(tx, m.To)); err != nil {
		return err
	}
	if err := deletePrefix(tx.Bucket(bucketSent), name(m.From)); err != nil {
		return err
	}
	for _, b := range [][]byte{bucketSeen, bucketAnswer, bucketOut, bucketAside} {
		rename := func(k, v []byte) ([]byte, []byte) {
			return append(name(m.To), k[len(name(m.From)):]...), v
		}
		if err := rewrite(tx.Bucket(b), name(m.From), rename); err != nil {
			return err
		}
	}
	if m.Aside == nil {
		return nil
	}
	return tx.Bucket(bucketAside).Put(asideKey(m.To, m.From), m.Aside)
}

// merge makes one record of the two and numbers the events of To behind those of
// From.
func (m Move) merge(tx *bbolt.Tx, was, is chatRecord) error {
	if err := renumber(tx, m.To, was.seq); err != nil {
		return err
	}
	merged := chatRecord{seq: was.seq + is.seq, state: m.State}
	if len(merged.state) == 0 {
		merged.state = is.state
	}
	if len(merged.state) == 0 {
		merged.state = was.state
	}
	chats := tx.Bucket(bucketChat)
	if err := chats.Put(name(m.To), merged.bytes()); err != nil {
		return err
	}
	return chats.Delete(name(m.From))
}

// renumber adds to the seq of every event of a chat.
func renumber(tx *bbolt.Tx, chat string, by uint64) error {
	prefix := name(chat)
	add := func(number []byte) {
		if len(number) >= 8 { // else it is torn
			binary.BigEndian.PutUint64(number, by+binary.BigEndian.Uint64(number))
		}
	}
	inKey := func(k, v []byte) ([]byte, []byte) { add(k[len(prefix):]); return k, v }
	inRecord := func(k, v []byte) ([]byte, []byte) { add(v); return k, v }
	for _, r := range []struct {
		bucket []byte
		as     func(k, v []byte) ([]byte, []byte)
	}{{bucketSeen, inRecord}, {bucketAnswer, inKey}, {bucketOut, inKey}} {
		if err := rewrite(tx.Bucket(r.bucket), prefix, r.as); err != nil {
			return err
		}
	}
	return nil
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
