package sessions

import (
	"context"
	"errors"
	"time"

	"go.etcd.io/bbolt"
)

const (
	groupMost = 128              // changes in one transaction
	groupWait = time.Millisecond // for more of them
)

var errClosed = errors.New("the store is closed")

// job is one change on its way into the file.
type job struct {
	do   func(*bbolt.Tx) error // may be called again when another of the group failed
	done chan error
}

// commit hands a change to the committer and returns when it is in the file for
// good, or nothing of it is.
func (d *DB) commit(ctx context.Context, do func(*bbolt.Tx) error) error {
	j := job{do: do, done: make(chan error, 1)}
	select {
	case d.jobs <- j:
		return <-j.done
	case <-ctx.Done():
		return ctx.Err()
	case <-d.closing:
		return errClosed
	}
}

// committer writes what is handed in until the store closes: every change that
// is ready goes into one transaction, for it is the writing through to the disk
// that takes long. Where the last group was larger it waits a moment for the
// others, who are likely on their way; a chat by itself never waits.
func (d *DB) committer() {
	defer close(d.closed)
	last := 1
	for {
		select {
		case first := <-d.jobs:
			group := d.gather(first, last)
			last = len(group)
			d.write(group)
		case <-d.closing:
			return
		}
	}
}

// gather takes what is ready behind first and, up to expected changes, what comes
// in within groupWait.
func (d *DB) gather(first job, expected int) []job {
	group := []job{first}
	var late <-chan time.Time
	for len(group) < groupMost {
		select {
		case j := <-d.jobs:
			group = append(group, j)
			continue
		default:
		}
		if len(group) >= expected {
			return group
		}
		if late == nil {
			late = time.After(groupWait)
		}
		select {
		case j := <-d.jobs:
			group = append(group, j)
		case <-late:
			return group
		}
	}
	return group
}

// write stores a group in one transaction. One that fails is told so and left
// out; the others are written without it.
func (d *DB) write(group []job) {
	for len(group) > 0 {
		failed := -1
		err := d.file.Update(func(tx *bbolt.Tx) error {
			for i, j := range group {
				if err := j.do(tx); err != nil {
					failed = i
					return err
				}
			}
			return nil
		})
		if failed < 0 {
			for _, j := range group {
				j.done <- err
			}
			return
		}
		group[failed].done <- err
		group = append(group[:failed:failed], group[failed+1:]...)
	}
}
