package sessions

import (
	"bytes"
	"encoding/binary"
	"errors"
	"time"

	"go.etcd.io/bbolt"
)

// version of the file that this program reads and writes.
const version = 2

var (
	bucketMeta   = []byte("meta")
	bucketChat   = []byte("chat")
	bucketSeen   = []byte("seen")
	bucketAnswer = []byte("answer")
	bucketOut    = []byte("out")
	bucketSent   = []byte("sent")
	bucketMoved  = []byte("moved")
	bucketAside  = []byte("aside")

	buckets = [][]byte{bucketMeta, bucketChat, bucketSeen, bucketAnswer, bucketOut, bucketSent, bucketMoved, bucketAside}

	keyVersion = []byte("version")
)

var errTorn = errors.New("a record of the store ends too early")

// name is s as a part of a key.
func name(s string) []byte { return appendName(make([]byte, 0, 2+len(s)+10), s) }

func appendName(key []byte, s string) []byte {
	return append(binary.BigEndian.AppendUint16(key, uint16(len(s))), s...)
}

// MaxName is the longest name of a chat or an event, in bytes.
const MaxName = 1024

func seenKey(chat, event string) []byte { return append(name(chat), event...) }

func answerKey(chat string, seq uint64) []byte {
	return binary.BigEndian.AppendUint64(name(chat), seq)
}

func outKey(chat string, seq uint64, n int) []byte {
	return binary.BigEndian.AppendUint16(answerKey(chat, seq), uint16(n))
}

func asideKey(chat, why string) []byte { return append(name(chat), why...) }

// sentKey of one body; without n it begins the keys of all of an answer.
func sentKey(chat, event string, n ...int) []byte {
	key := appendName(name(chat), event)
	for _, n := range n {
		key = binary.BigEndian.AppendUint16(key, uint16(n))
	}
	return key
}

// splitName takes a name off the front of a key.
func splitName(key []byte) (s string, rest []byte, err error) {
	if len(key) < 2 {
		return "", nil, errTorn
	}
	n := int(binary.BigEndian.Uint16(key))
	if key = key[2:]; len(key) < n {
		return "", nil, errTorn
	}
	return string(key[:n]), key[n:], nil
}

// splitNumber takes a number of eight bytes off the front of a record.
func splitNumber(b []byte) (n uint64, rest []byte, err error) {
	if len(b) < 8 {
		return 0, nil, errTorn
	}
	return binary.BigEndian.Uint64(b), b[8:], nil
}

func appendTime(b []byte, t time.Time) []byte {
	if t.IsZero() {
		return binary.BigEndian.AppendUint64(b, 0)
	}
	return binary.BigEndian.AppendUint64(b, uint64(t.UnixMilli()))
}

func asTime(ms uint64) time.Time {
	if ms == 0 {
		return time.Time{}
	}
	return time.UnixMilli(int64(ms)).UTC()
}

// chatRecord is what stands in the bucket chat.
type chatRecord struct {
	seq   uint64
	state []byte
}

func (c chatRecord) bytes() []byte {
	return append(binary.BigEndian.AppendUint64(make([]byte, 0, 8+len(c.state)), c.seq), c.state...)
}

// readChat gives the record of a chat, its state still the transaction's own. It
// is empty for a chat not heard of. One that is torn is taken for a state that
// cannot be read, of a chat whose last event is the last one answered.
func readChat(tx *bbolt.Tx, chat string) (c chatRecord) {
	b := tx.Bucket(bucketChat).Get(name(chat))
	if b == nil {
		return c
	}
	var err error
	if c.seq, c.state, err = splitNumber(b); err != nil {
		return chatRecord{seq: lastSeq(tx, chat), state: b}
	}
	return c
}

// lastSeq is the highest number in the keys of a chat's answers and rows.
func lastSeq(tx *bbolt.Tx, chat string) (last uint64) {
	prefix := name(chat)
	for _, b := range [][]byte{bucketAnswer, bucketOut} {
		withPrefix(tx.Bucket(b), prefix, func(k, _ []byte) error {
			if seq, _, err := splitNumber(k[len(prefix):]); err == nil {
				last = max(last, seq)
			}
			return nil
		})
	}
	return last
}

// present is the name that a chat goes by now.
func present(tx *bbolt.Tx, chat string) string {
	moved := tx.Bucket(bucketMoved)
	for to := moved.Get(name(chat)); to != nil; to = moved.Get(name(chat)) {
		chat = string(to)
	}
	return chat
}

// seenRecord is what stands in the bucket seen.
type seenRecord struct {
	seq uint64
	at  time.Time
}

func (s seenRecord) bytes() []byte {
	return appendTime(binary.BigEndian.AppendUint64(make([]byte, 0, 16), s.seq), s.at)
}

func parseSeen(b []byte) (s seenRecord, err error) {
	if s.seq, b, err = splitNumber(b); err != nil {
		return s, err
	}
	at, _, err := splitNumber(b)
	s.at = asTime(at)
	return s, err
}

// packBodies is the record of the bucket answer: each body behind its length.
func packBodies(bodies [][]byte) []byte {
	var b []byte
	for _, body := range bodies {
		b = append(binary.AppendUvarint(b, uint64(len(body))), body...)
	}
	return b
}

// unpackBodies copies the bodies out of their record.
func unpackBodies(b []byte) ([][]byte, error) {
	var bodies [][]byte
	for len(b) > 0 {
		n, used := binary.Uvarint(b)
		if used <= 0 || uint64(len(b)-used) < n {
			return nil, errTorn
		}
		b = b[used:]
		bodies = append(bodies, bytes.Clone(b[:n]))
		b = b[n:]
	}
	return bodies, nil
}

// outRecord is what stands in the bucket out.
func outRecord(notBefore time.Time, tries int, event string, body []byte) []byte {
	b := appendTime(make([]byte, 0, 14+len(event)+len(body)), notBefore)
	b = binary.BigEndian.AppendUint32(b, uint32(tries))
	return append(appendName(b, event), body...)
}

// parseRow reads a row of the bucket out into memory of its own. One whose record
// is torn has no body: it can only be given up.
func parseRow(key, record []byte) (r Row, err error) {
	if r.Chat, key, err = splitName(key); err != nil {
		return r, err
	}
	if r.Seq, key, err = splitNumber(key); err != nil {
		return r, err
	}
	if len(key) != 2 {
		return r, errTorn
	}
	r.N = int(binary.BigEndian.Uint16(key))
	notBefore, record, err := splitNumber(record)
	if err != nil || len(record) < 4 {
		return r, nil
	}
	event, body, err := splitName(record[4:])
	if err != nil {
		return r, nil
	}
	r.NotBefore, r.Tries = asTime(notBefore), int(binary.BigEndian.Uint32(record))
	r.Event, r.Body = event, bytes.Clone(body)
	return r, nil
}

// withPrefix calls do for every key that begins with prefix, in order, until it
// fails. do must not change the bucket.
func withPrefix(b *bbolt.Bucket, prefix []byte, do func(key, value []byte) error) error {
	c := b.Cursor()
	for k, v := c.Seek(prefix); k != nil && bytes.HasPrefix(k, prefix); k, v = c.Next() {
		if err := do(k, v); err != nil {
			return err
		}
	}
	return nil
}

// deletePrefix deletes every key that begins with prefix.
func deletePrefix(b *bbolt.Bucket, prefix []byte) error {
	var keys [][]byte
	withPrefix(b, prefix, func(k, _ []byte) error { keys = append(keys, bytes.Clone(k)); return nil })
	return deleteKeys(b, keys)
}

func deleteKeys(b *bbolt.Bucket, keys [][]byte) error {
	for _, k := range keys {
		if err := b.Delete(k); err != nil {
			return err
		}
	}
	return nil
}
