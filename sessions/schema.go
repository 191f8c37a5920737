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
	bucketTold  = []byte("told")
	bucketBody  = []byte("body")
	bucketOut   = []byte("out")
	bucketSent  = []byte("sent")
	bucketLog   = []byte("log")
	bucketSpent = []byte("spent")
	bucketMoved = []byte("moved")
	bucketAside = []byte("aside")

	buckets = [][]byte{
		bucketMeta, bucketTold, bucketBody, bucketOut, bucketSent, bucketMoved, bucketAside, bucketLog, bucketSpent,
	}
	ofChats = [][]byte{bucketTold, bucketOut, bucketLog, bucketAside} // whose keys begin with the chat's name

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

// eventKey of an event; without a name it begins the keys of all of a chat.
func eventKey(chat, event string) []byte { return append(append(name(chat), 0), event...) }

// splitEvent takes an event's key apart; ok is false for another.
func splitEvent(key []byte) (chat, event string, ok bool) {
	chat, rest, err := splitName(key)
	if err != nil || len(rest) == 0 || rest[0] != 0 {
		return "", "", false
	}
	return chat, string(rest[1:]), true
}

// stateKey stands behind the chat's events, mostly on the page of the last.
func stateKey(chat string) []byte { return append(name(chat), 1) }

func outKey(chat string, seq uint64, n int) []byte {
	return binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint64(name(chat), seq), uint16(n))
}

func asideKey(chat, why string) []byte { return append(name(chat), why...) }

func logKey(chat string, n uint64) []byte { return binary.BigEndian.AppendUint64(name(chat), n) }

// numberKey is the key of an answer, and begins the keys of what was sent of it.
func numberKey(number uint64) []byte {
	return binary.BigEndian.AppendUint64(make([]byte, 0, 10), number)
}

func sentKey(number uint64, n int) []byte {
	return binary.BigEndian.AppendUint16(numberKey(number), uint16(n))
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

// eventRecord is what stands in the bucket told of an event.
type eventRecord struct {
	number uint64 // of its answer; 0 in one that is torn
	at     time.Time
	seen   bool // else only an edit of it was
}

func (e eventRecord) bytes() []byte {
	b := appendTime(binary.BigEndian.AppendUint64(make([]byte, 0, 17), e.number), e.at)
	if e.seen {
		return append(b, 1)
	}
	return append(b, 0)
}

// parseEvent reads a record. Of one that is torn is known that it was seen.
func parseEvent(b []byte) eventRecord {
	if len(b) < 17 {
		return eventRecord{seen: true}
	}
	return eventRecord{binary.BigEndian.Uint64(b), asTime(binary.BigEndian.Uint64(b[8:])), b[16] != 0}
}

// readEvent gives the record of an event; known is false where there is none.
func readEvent(tx *bbolt.Tx, chat, event string) (e eventRecord, known bool) {
	b := tx.Bucket(bucketTold).Get(eventKey(chat, event))
	if b == nil {
		return e, false
	}
	return parseEvent(b), true
}

func putEvent(tx *bbolt.Tx, chat, event string, e eventRecord) error {
	return tx.Bucket(bucketTold).Put(eventKey(chat, event), e.bytes())
}

// readBodies gives the bodies of an answer, packed and the transaction's own.
func readBodies(tx *bbolt.Tx, number uint64) []byte {
	return tx.Bucket(bucketBody).Get(numberKey(number))
}

func putBodies(tx *bbolt.Tx, number uint64, packed []byte) error {
	if len(packed) == 0 {
		return nil
	}
	return byNumber(tx, bucketBody).Put(numberKey(number), packed)
}

func putSent(tx *bbolt.Tx, number uint64, n int, id []byte) error {
	return byNumber(tx, bucketSent).Put(sentKey(number, n), id)
}

// byNumber is a bucket that is written to at its end, and so has full pages.
func byNumber(tx *bbolt.Tx, bucket []byte) *bbolt.Bucket {
	b := tx.Bucket(bucket)
	b.FillPercent = 0.95
	return b
}

// deleteAnswer deletes the bodies of an answer and what they were sent under.
func deleteAnswer(tx *bbolt.Tx, number uint64) error {
	return errors.Join(tx.Bucket(bucketBody).Delete(numberKey(number)), deletePrefix(tx.Bucket(bucketSent), numberKey(number)))
}

// renumberSent puts what was sent of an answer under another number.
func renumberSent(tx *bbolt.Tx, was, is uint64) error {
	return rewrite(tx.Bucket(bucketSent), numberKey(was), func(k, v []byte) ([]byte, []byte) {
		binary.BigEndian.PutUint64(k, is)
		return k, v
	})
}

// readState gives the state of a chat, the transaction's own; empty for none.
func readState(tx *bbolt.Tx, chat string) []byte {
	return tx.Bucket(bucketTold).Get(stateKey(chat))
}

// nextNumber is higher than all that were given before.
func nextNumber(tx *bbolt.Tx) (uint64, error) { return tx.Bucket(bucketBody).NextSequence() }

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

// outRecord is what stands in the bucket out; own is a row that has its body.
func outRecord(notBefore time.Time, tries int, event string, own bool, body []byte) []byte {
	b := appendTime(make([]byte, 0, 15+len(event)+len(body)), notBefore)
	b = appendName(binary.BigEndian.AppendUint32(b, uint32(tries)), event)
	if !own {
		return append(b, 0)
	}
	return append(append(b, 1), body...)
}

// rowRecord is a row of the bucket out. One that is not own has no body: that
// stands with the answer of its number.
type rowRecord struct {
	Row
	own bool
}

// parseRow reads a row into memory of its own. One whose record is torn has no
// body: it can only be given up.
func parseRow(key, record []byte) (r rowRecord, err error) {
	r.own = true
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
	if err != nil || len(body) == 0 {
		return r, nil
	}
	r.NotBefore, r.Tries, r.Event = asTime(notBefore), int(binary.BigEndian.Uint32(record)), event
	if r.own = body[0] != 0; r.own {
		r.Body = bytes.Clone(body[1:])
	}
	return r, nil
}

// body gives the body of a row, nil where it cannot be read.
func (r rowRecord) body(tx *bbolt.Tx) []byte {
	if r.own {
		return r.Body
	}
	return unpackBody(readBodies(tx, r.Seq), r.N)
}

// takeBodies gives the rows of a chat their bodies, before answers go or rows get
// other numbers.
func takeBodies(tx *bbolt.Tx, chat string) error {
	return rewrite(tx.Bucket(bucketOut), name(chat), func(k, v []byte) ([]byte, []byte) {
		if r, err := parseRow(k, v); err == nil && !r.own {
			v = outRecord(r.NotBefore, r.Tries, r.Event, true, r.body(tx))
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
