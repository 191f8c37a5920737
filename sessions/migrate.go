package sessions

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"time"

	"go.etcd.io/bbolt"
)

// upgrades bring a file from the version that is their index to the next one.
var upgrades = map[uint64]func(*bbolt.Tx) error{
	1: rowsThatCanWait,
	2: func(*bbolt.Tx) error { return nil }, // the log and the marks of the forgotten: a program of 2 would not forget them
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
	err := tx.Bucket(bucketSeen).ForEach(func(k, v []byte) error {
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
		at := bytes.Clone(k)
		event := ""
		if chat, rest, err := splitName(at); err == nil && len(rest) >= 8 {
			event = events[answer{chat, string(rest[:8])}]
		}
		return k, outRecord(time.Time{}, 0, event, body)
	})
}
