package sessions

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"slices"
	"time"

	"go.etcd.io/bbolt"
)

// version of the file that this program reads and writes.
const version = 4

var (
	bucketMeta  = []byte("meta")
	bucketState = []byte("state")
	bucketEvent = []byte("event")
	bucketOut   = []byte("out")
	bucketSent  = []byte("sent")
	bucketLog   = []byte("log")
	bucketSpent = []byte("spent")
	bucketMoved = []byte("moved")
	bucketAside = []byte("aside")

	buckets = [][]byte{
		bucketMeta, bucketState, bucketEvent, bucketOut, bucketSent, bucketMoved, bucketAside, bucketLog, bucketSpent,
	}
	ofChats = [][]byte{bucketState, bucketEvent, bucketOut, bucketLog, bucketAside} // whose keys begin with the chat's name

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

func eventKey(chat, event string) []byte { return append(name(chat), event...) }

func outKey(chat string, seq uint64, n int) []byte {
	return binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint64(name(chat), seq), uint16(n))
}

func asideKey(chat, why string) []byte { return append(name(chat), why...) }

func logKey(chat string, n uint64) []byte { return binary.BigEndian.AppendUint64(name(chat), n) }

// sentPrefix begins the keys of all bodies of an answer.
func sentPrefix(number uint64) []byte {
	return binary.BigEndian.AppendUint64(make([]byte, 0, 10), number)
}

func sentKey(number uint64, n int) []byte {
	return binary.BigEndian.AppendUint16(sentPrefix(number), uint16(n))
}

// spentKey is the mark of an event of a chat that was forgotten: neither can be
// read from it.
func spentKey(chat, event string) [16]byte {
	sum := sha256.Sum256(appendName(name(chat), event))
	return [16]byte(sum[:16])
}

// moveKey is the mark of a move of a chat that was forgotten.
func moveKey(m Move) [16]byte { return spentKey(m.From, "\x00moved to "+m.To) }

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

// heard says whether there is anything of a chat.
func heard(tx *bbolt.Tx, chat string) bool {
	prefix := name(chat)
	return slices.ContainsFunc(ofChats, func(b []byte) bool {
		k, _ := tx.Bucket(b).Cursor().Seek(prefix)
		return bytes.HasPrefix(k, prefix)
	})
}

// names are those that a chat has had from this one on; the last is its present
// one.
func names(tx *bbolt.Tx, chat string) []string {
	moved, list := tx.Bucket(bucketMoved), []string{chat}
	for to := moved.Get(name(chat)); to != nil; to = moved.Get(name(string(to))) {
		list = append(list, string(to))
	}
	return list
}

// present is the name that a chat goes by now.
func present(tx *bbolt.Tx, chat string) string {
	all := names(tx, chat)
	return all[len(all)-1]
}

// eventRecord is what stands in the bucket event.
type eventRecord struct {
	number uint64 // of its answer in the bucket sent; 0 in one that is torn
	at     time.Time
	seen   bool   // else only an edit of it was
	packed []byte // the bodies of the answer, the transaction's own
}

func (e eventRecord) bytes() []byte {
	b := binary.BigEndian.AppendUint64(make([]byte, 0, 17+len(e.packed)), e.number)
	b = append(appendTime(b, e.at), 0)
	if e.seen {
		b[16] = 1
	}
	return append(b, e.packed...)
}

// parseEvent reads a record. Of one that is torn is known that it was seen.
func parseEvent(b []byte) eventRecord {
	if len(b) < 17 {
		return eventRecord{seen: true}
	}
	return eventRecord{
		number: binary.BigEndian.Uint64(b),
		at:     asTime(binary.BigEndian.Uint64(b[8:])),
		seen:   b[16] != 0,
		packed: b[17:],
	}
}

// readEvent gives the record of an event; known is false where there is none.
func readEvent(tx *bbolt.Tx, chat, event string) (e eventRecord, known bool) {
	b := tx.Bucket(bucketEvent).Get(eventKey(chat, event))
	if b == nil {
		return e, false
	}
	return parseEvent(b), true
}

func putEvent(tx *bbolt.Tx, chat, event string, e eventRecord) error {
	return tx.Bucket(bucketEvent).Put(eventKey(chat, event), e.bytes())
}

// nextNumber is higher than all that were given before.
func nextNumber(tx *bbolt.Tx) (uint64, error) { return tx.Bucket(bucketEvent).NextSequence() }

// packBodies puts each body behind its length.
func packBodies(bodies [][]byte) []byte {
	var b []byte
	for _, body := range bodies {
		b = append(binary.AppendUvarint(b, uint64(len(body))), body...)
	}
	return b
}

// unpackBodies copies the bodies out again.
func unpackBodies(packed []byte) (bodies [][]byte, err error) {
	for len(packed) > 0 {
		var body []byte
		if body, packed, err = cutBody(packed); err != nil {
			return nil, err
		}
		bodies = append(bodies, bytes.Clone(body))
	}
	return bodies, nil
}

// unpackBody copies one of them, nil where it is not there.
func unpackBody(packed []byte, n int) (body []byte) {
	for ; n >= 0; n-- {
		var err error
		if body, packed, err = cutBody(packed); err != nil {
			return nil
		}
	}
	return bytes.Clone(body)
}

// cutBody takes the first body off.
func cutBody(packed []byte) (body, rest []byte, err error) {
	n, used := binary.Uvarint(packed)
	if used <= 0 || uint64(len(packed)-used) < n {
		return nil, nil, errTorn
	}
	packed = packed[used:]
	return packed[:n], packed[n:], nil
}

// Where the body of a row is.
const (
	inEvent byte = iota // body N of the answer to an event
	inRow
)

// outRecord is what stands in the bucket out; rest is the event that the body is
// read from, or the body itself.
func outRecord(notBefore time.Time, tries int, event string, where byte, rest []byte) []byte {
	b := appendTime(make([]byte, 0, 15+len(event)+len(rest)), notBefore)
	b = binary.BigEndian.AppendUint32(b, uint32(tries))
	return append(append(appendName(b, event), where), rest...)
}

// rowRecord is a row of the bucket out.
type rowRecord struct {
	Row    // its body only where that is in the row
	where  byte
	answer string // the event that the body is read from
}

// parseRow reads a row into memory of its own. One whose record is torn has no
// body: it can only be given up.
func parseRow(key, record []byte) (r rowRecord, err error) {
	r.where = inRow
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
	event, rest, err := splitName(record[4:])
	if err != nil || len(rest) == 0 {
		return r, nil
	}
	r.NotBefore, r.Tries, r.Event = asTime(notBefore), int(binary.BigEndian.Uint32(record)), event
	if r.where, rest = rest[0], rest[1:]; r.where == inEvent {
		r.answer = string(rest)
	} else {
		r.Body = bytes.Clone(rest)
	}
	return r, nil
}

// body gives the body of a row, nil where it cannot be read.
func (r rowRecord) body(tx *bbolt.Tx) []byte {
	if r.where != inEvent {
		return r.Body
	}
	e, _ := readEvent(tx, r.Chat, r.answer)
	return unpackBody(e.packed, r.N)
}

// takeBodies puts into the rows of a chat the bodies that they read from events,
// before those change.
func takeBodies(tx *bbolt.Tx, chat string) error {
	return rewrite(tx.Bucket(bucketOut), name(chat), func(k, v []byte) ([]byte, []byte) {
		if r, err := parseRow(k, v); err == nil && r.where == inEvent {
			v = outRecord(r.NotBefore, r.Tries, r.Event, inRow, r.body(tx))
		}
		return k, v
	})
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
