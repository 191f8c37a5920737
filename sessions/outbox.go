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
// none.
func (d *DB) Sent(ctx context.Context, r Row, id string) error {
	return d.commit(ctx, func(tx *bbolt.Tx) error {
		out, key := tx.Bucket(bucketOut), outKey(r.Chat, r.Seq, r.N)
		if out.Get(key) == nil {
			return nil // moved or dropped meanwhile
		}
		if err := out.Delete(key); err != nil || id == "" {
			return err
		}
		if chat, err := readChat(tx, r.Chat); err != nil || chat.seq == 0 {
			return err // forgotten: that was the last of it
		}
		return tx.Bucket(bucketSent).Put(sentKey(r.Chat, r.Event, r.N), []byte(id))
	})
}

// Later puts a row off, and counts the try.
func (d *DB) Later(ctx context.Context, r Row, notBefore time.Time) error {
	return d.commit(ctx, func(tx *bbolt.Tx) error {
		out, key := tx.Bucket(bucketOut), outKey(r.Chat, r.Seq, r.N)
		if out.Get(key) == nil {
			return nil // moved or dropped meanwhile
		}
		return out.Put(key, outRecord(notBefore, r.Tries+1, r.Event, r.Body))
	})
}

// Drop removes all rows of a chat.
func (d *DB) Drop(ctx context.Context, chat string) error {
	return d.commit(ctx, func(tx *bbolt.Tx) error { return deletePrefix(tx.Bucket(bucketOut), name(chat)) })
}

// Move gives all that is known of one chat to another name. A name that already
// has a state keeps it; what was answered under the old name counts as older.
func (d *DB) Move(ctx context.Context, from, to string) error {
	return d.commit(ctx, func(tx *bbolt.Tx) error {
		was, err := readChat(tx, from)
		if err != nil || from == to {
			return err
		}
		is, err := readChat(tx, to)
		if err != nil {
			return err
		}
		known := was.seq > 0 || is.seq > 0
		was.seq, is.seq = max(was.seq, lastWaiting(tx, from)), max(is.seq, lastWaiting(tx, to))
		if was.seq == 0 {
			return nil
		}
		return moveAll(tx, from, to, was, is, known)
	})
}

// moveAll numbers the events of to behind those of from and renames the latter.
// Where neither is known, the last answers to chats forgotten are all there is.
func moveAll(tx *bbolt.Tx, from, to string, was, is chatRecord, known bool) error {
	if err := renumber(tx, to, was.seq); err != nil {
		return err
	}
	merged := chatRecord{seq: was.seq + is.seq, state: is.state}
	if len(is.state) == 0 {
		merged.state = was.state
	}
	chats := tx.Bucket(bucketChat)
	if known {
		if err := chats.Put(name(to), merged.bytes()); err != nil {
			return err
		}
	}
	if err := chats.Delete(name(from)); err != nil {
		return err
	}
	if len(is.state) > 0 { // it keeps its log with its state
		if err := deletePrefix(tx.Bucket(bucketLog), name(from)); err != nil {
			return err
		}
	}
	for _, b := range [][]byte{bucketSeen, bucketAnswer, bucketOut, bucketSent, bucketLog} {
		rename := func(k, v []byte) ([]byte, []byte) {
			return append(name(to), k[len(name(from)):]...), v
		}
		if err := rewrite(tx.Bucket(b), name(from), rename); err != nil {
			return err
		}
	}
	return nil
}

// renumber adds to the seq of every event of a chat.
func renumber(tx *bbolt.Tx, chat string, by uint64) error {
	prefix := name(chat)
	inKey := func(k, v []byte) ([]byte, []byte) {
		binary.BigEndian.PutUint64(k[len(prefix):], by+binary.BigEndian.Uint64(k[len(prefix):]))
		return k, v
	}
	inRecord := func(k, v []byte) ([]byte, []byte) {
		binary.BigEndian.PutUint64(v, by+binary.BigEndian.Uint64(v))
		return k, v
	}
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
