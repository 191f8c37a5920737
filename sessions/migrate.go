package sessions

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"go.etcd.io/bbolt"
)

// upgrades bring a file from the version that is their index to the next one.
var upgrades = map[uint64]func(*bbolt.Tx) error{
	1: rowsThatCanWait,
	2: func(*bbolt.Tx) error { return nil }, // the log and the marks of the forgotten: a program of 2 would not forget them
	3: answersByNumber,
}

// migrate makes the buckets of a new file and brings an old one to the present
// version, all in one transaction. A file from the future is left alone.
func migrate(tx *bbolt.Tx) error {
	at, err := fileVersion(tx)
	if err != nil {
		return err
	}
	if at > version {
		return fmt.Errorf("it was written by a later program: its version is %d, this program knows %d", at, version)
	}
	for ; at < version; at++ {
		if err := upgrades[at](tx); err != nil {
			return fmt.Errorf("bring it from version %d to %d: %w", at, at+1, err)
		}
	}
	for _, b := range buckets {
		if _, err := tx.CreateBucketIfNotExists(b); err != nil {
			return err
		}
	}
	return tx.Bucket(bucketMeta).Put(keyVersion, binary.BigEndian.AppendUint64(nil, version))
}

// fileVersion is the version of a file; that of a new one is the present.
func fileVersion(tx *bbolt.Tx) (uint64, error) {
	meta := tx.Bucket(bucketMeta)
	if meta == nil {
		if k, _ := tx.Cursor().First(); k != nil {
			return 0, fmt.Errorf("it is no store of this program: it has a bucket %q and no version", k)
		}
		return version, nil
	}
	at, _, err := splitNumber(meta.Get(keyVersion))
	if err == nil && at == 0 {
		err = fmt.Errorf("it is no store of this program: its version is 0")
	}
	return at, err
}

// rowsThatCanWait is version 1 to 2. A row of the outbox was its body alone; now
// it says before when it is not sent, how often it was tried and whose answer it
// is. That is the event of the same number.
func rowsThatCanWait(tx *bbolt.Tx) error {
	type answer struct{ chat, seq string }
	events := map[answer]string{}
	err := tx.Bucket([]byte("seen")).ForEach(func(k, v []byte) error {
		chat, event, err := splitName(k)
		if err != nil || len(v) < 8 {
			return errTorn
		}
		events[answer{chat, string(v[:8])}] = string(event)
		return nil
	})
	if err != nil {
		return err
	}
	return rewrite(tx.Bucket(bucketOut), nil, func(k, body []byte) ([]byte, []byte) {
		event := ""
		if chat, rest, err := splitName(k); err == nil && len(rest) >= 8 {
			event = events[answer{chat, string(rest[:8])}]
		}
		return k, append(appendName(make([]byte, 12), event), body...)
	})
}

// answersByNumber is version 3 to 4. An event was
//
//	seen    <chat> <event>       seq, time
//	answer  <chat> <seq>         the bodies
//	sent    <chat> <event> <n>   the transport's own id of body n
//
// and a chat was its last seq and the state. A row of the outbox had its body.
func answersByNumber(tx *bbolt.Tx) error {
	old := map[string]*bbolt.Bucket{}
	for _, b := range []string{"chat", "seen", "answer", "sent"} {
		var err error
		if old[b], err = tx.CreateBucketIfNotExists([]byte(b)); err != nil {
			return err
		}
	}
	ids := map[string][]byte{}
	old["sent"].ForEach(func(k, id []byte) error { ids[string(k)] = bytes.Clone(id); return nil })
	err := tx.DeleteBucket(bucketSent)
	for _, b := range [][]byte{bucketTold, bucketBody, bucketOut, bucketSent} {
		_, made := tx.CreateBucketIfNotExists(b)
		err = errors.Join(err, made)
	}
	if err != nil {
		return err
	}
	told := map[string][]byte{}
	if err := statesAlone(tx, old["chat"], told); err != nil {
		return err
	}
	last, err := seenAndAnswered(tx, old["seen"], old["answer"], told)
	if err != nil {
		return err
	}
	if err := sentByNumber(tx, ids, last, told); err != nil {
		return err
	}
	for _, k := range slices.Sorted(maps.Keys(told)) { // what is put in its order is put fast
		if err := tx.Bucket(bucketTold).Put([]byte(k), told[k]); err != nil {
			return err
		}
	}
	for _, b := range []string{"chat", "seen", "answer"} {
		if err := tx.DeleteBucket([]byte(b)); err != nil {
			return err
		}
	}
	return rewrite(tx.Bucket(bucketOut), nil, func(k, v []byte) ([]byte, []byte) {
		if len(v) >= 12 {
			if event, body, err := splitName(v[12:]); err == nil {
				v = append(append(appendName(v[:12:12], event), 1), body...)
			}
		}
		return k, v
	})
}

// statesAlone takes the states out of their records, and lets the numbers go on
// behind all that there were.
func statesAlone(tx *bbolt.Tx, chats *bbolt.Bucket, told map[string][]byte) error {
	highest := uint64(0)
	err := chats.ForEach(func(k, v []byte) error {
		seq, state, err := splitNumber(v)
		if err != nil {
			state = v // torn: it is put aside when it is read
		}
		highest = max(highest, seq)
		if len(state) > 0 {
			told[string(k)+"\x01"] = state
		}
		return nil
	})
	if err != nil {
		return err
	}
	err = tx.Bucket(bucketOut).ForEach(func(k, _ []byte) error {
		if _, rest, err := splitName(k); err == nil && len(rest) >= 8 {
			highest = max(highest, binary.BigEndian.Uint64(rest))
		}
		return nil
	})
	return errors.Join(err, tx.Bucket(bucketBody).SetSequence(highest))
}

// seenAndAnswered gives every event a number, and its answer the same, and tells
// the time of each chat's last.
func seenAndAnswered(tx *bbolt.Tx, seen, answers *bbolt.Bucket, told map[string][]byte) (last map[string]time.Time, err error) {
	last = map[string]time.Time{}
	return last, seen.ForEach(func(k, v []byte) error {
		chat, event, err := splitName(k)
		if err != nil {
			return err
		}
		e := eventRecord{seen: true}
		if e.number, err = nextNumber(tx); err != nil {
			return err
		}
		if len(v) >= 16 { // else it is torn
			e.at = asTime(binary.BigEndian.Uint64(v[8:]))
			if err := putBodies(tx, e.number, answers.Get(append(name(chat), v[:8]...))); err != nil {
				return err
			}
		}
		if e.at.After(last[chat]) {
			last[chat] = e.at
		}
		told[string(eventKey(chat, string(event)))] = e.bytes()
		return nil
	})
}

// sentByNumber puts what the transports called the bodies under the number of
// their event. One that was not seen, only an edit of it, gets a record as old as
// the last of its chat.
func sentByNumber(tx *bbolt.Tx, ids map[string][]byte, last map[string]time.Time, told map[string][]byte) error {
	for _, k := range slices.Sorted(maps.Keys(ids)) {
		chat, rest, err := splitName([]byte(k))
		if err != nil {
			return err
		}
		event, n, err := splitName(rest)
		if err != nil {
			return err
		}
		key := string(eventKey(chat, event))
		e := parseEvent(told[key])
		if told[key] == nil {
			e = eventRecord{at: last[chat]}
			if e.number, err = nextNumber(tx); err != nil {
				return err
			}
			told[key] = e.bytes()
		}
		if err := tx.Bucket(bucketSent).Put(append(numberKey(e.number), n...), ids[k]); err != nil {
			return err
		}
	}
	return nil
}
