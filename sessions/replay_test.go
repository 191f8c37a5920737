package sessions

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

const (
	watchedCommits = 60
	sector         = 512 // bytes, which a disk writes whole or not at all
)

// watchedChange is commit n of the watched program. Some are large, so that the
// file grows, and some take rows away, so that pages are used again.
func watchedChange(n int) Change {
	body := bytes.Repeat([]byte{byte('a' + n%26)}, 1+n%7*3000)
	return Change{Chat: fmt.Sprint("tg:", n%5), Event: fmt.Sprint(n), State: fmt.Append(nil, "state ", n), Bodies: [][]byte{body}, Send: true}
}

// watched commits one change after the other, and says behind each that it is
// stored.
func watched(dir string) error {
	d, err := Open(filepath.Join(dir, "store"))
	if err != nil {
		return err
	}
	said, err := os.Create(filepath.Join(dir, "said"))
	if err != nil {
		return err
	}
	ctx := context.Background()
	for n := range watchedCommits {
		if n > 10 && n%2 == 0 {
			c := watchedChange(n - 10)
			if row, ok, err := d.Next(ctx, c.Chat); ok {
				err = errors.Join(err, d.Sent(ctx, row, "id"))
				if err != nil {
					return err
				}
			}
		}
		if err := d.Commit(ctx, watchedChange(n)); err != nil {
			return err
		}
		if _, err := fmt.Fprintln(said, n); err != nil {
			return err
		}
	}
	return nil
}

// step is what the watched program did, in its order.
type step struct {
	kind string // "write", "size", "sync", "said"
	at   int64  // of a write, or the size
	data []byte
}

var (
	called  = regexp.MustCompile(`^\d+ +(\w+)\((.*)$`)
	resumed = regexp.MustCompile(`^\d+ +<\.\.\. (\w+) resumed>`)
	wrote   = regexp.MustCompile(`^(\d+), "((?:\\x[0-9a-f]{2})*)", \d+(?:, (\d+))?`)
	opened  = regexp.MustCompile(`"((?:\\x[0-9a-f]{2})*)".* = (\d+)$`)
)

func unhex(t *testing.T, s string) []byte {
	t.Helper()
	b, err := hex.DecodeString(strings.ReplaceAll(s, `\x`, ""))
	must(t, err)
	return b
}

// trace reads what strace saw of the two files.
func trace(t *testing.T, log []byte) (steps []step) {
	t.Helper()
	files := map[string]string{} // by descriptor
	for line := range strings.Lines(string(log)) {
		line = strings.TrimRight(line, "\n")
		if m := resumed.FindStringSubmatch(line); m != nil {
			if m[1] == "fdatasync" || m[1] == "fsync" { // only the store is synced
				steps = append(steps, step{kind: "sync"})
			}
			continue
		}
		m := called.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		whole := !strings.Contains(line, "<unfinished")
		fd, _, _ := strings.Cut(m[2], ",")
		fd, _, _ = strings.Cut(fd, ")")
		switch file := files[fd]; {
		case m[1] == "openat":
			if o := opened.FindStringSubmatch(m[2]); o != nil {
				files[o[2]] = filepath.Base(string(unhex(t, o[1])))
			}
		case (m[1] == "fdatasync" || m[1] == "fsync") && file == "store" && whole:
			steps = append(steps, step{kind: "sync"})
		case m[1] == "ftruncate" && file == "store":
			_, size, _ := strings.Cut(m[2], ", ")
			n, err := strconv.ParseInt(strings.TrimRight(strings.Fields(size)[0], ")"), 10, 64)
			must(t, err)
			steps = append(steps, step{kind: "size", at: n})
		case m[1] == "pwrite64" && file == "store", m[1] == "write" && file == "said":
			w := wrote.FindStringSubmatch(m[2])
			if w == nil {
				t.Fatalf("cannot read %.200s", line)
			}
			s := step{kind: "said", data: unhex(t, w[2])}
			if file == "store" {
				s.kind = "write"
				s.at, _ = strconv.ParseInt(w[3], 10, 64)
			}
			steps = append(steps, s)
		case m[1] == "write" && file == "store":
			t.Fatalf("the store is written to in a way that is not followed: %.200s", line)
		}
	}
	return steps
}

// image is a file as far as it reached the disk.
type image []byte

func (f *image) apply(s step, torn func(sector int) bool) {
	grow := func(n int) {
		if n > len(*f) {
			*f = append(*f, make([]byte, n-len(*f))...)
		}
	}
	switch s.kind {
	case "size":
		grow(int(s.at))
		*f = (*f)[:s.at]
	case "write":
		grow(int(s.at) + len(s.data))
		for from := 0; from < len(s.data); from += sector {
			if !torn(from / sector) {
				copy((*f)[int(s.at)+from:], s.data[from:min(from+sector, len(s.data))])
			}
		}
	}
}

// cut is the disk after the power failed behind steps: what was synced is there,
// of the rest anything. With a disk that does not sync, nothing need be there.
func cut(steps []step, syncs bool) image {
	var f image
	synced := 0
	for i, s := range steps {
		if s.kind == "sync" && (syncs || i < len(steps)/4) {
			synced = i
		}
	}
	none := func(int) bool { return false }
	for _, s := range steps[:synced] {
		f.apply(s, none)
	}
	for _, s := range steps[synced:] {
		switch rand.IntN(3) {
		case 0: // lost
		case 1:
			f.apply(s, none)
		case 2:
			f.apply(s, func(int) bool { return rand.IntN(2) == 0 })
		}
	}
	return f
}

// storedIn is how many commits there are in a store: all up to that one.
func storedIn(path string) (n int, err error) {
	d, err := Open(path)
	if err != nil {
		return 0, err
	}
	defer d.Close()
	if err := d.Check(); err != nil {
		return 0, err
	}
	for i := range watchedCommits {
		c := watchedChange(i)
		s, err := d.Look(context.Background(), c.Chat, c.Event)
		switch {
		case err != nil:
			return n, err
		case s.Seen && n == i && len(s.Bodies) == 1 && bytes.Equal(s.Bodies[0], c.Bodies[0]):
			n++
		case s.Seen:
			return n, fmt.Errorf("commit %d is there, %d is not, or not whole", i, n)
		}
	}
	return n, nil
}

// survives says what is wrong with a disk on which n commits were said to be.
func survives(t *testing.T, f image, n int) error {
	path := filepath.Join(t.TempDir(), "store")
	must(t, os.WriteFile(path, f, 0o600))
	there, err := storedIn(path)
	if err == nil && (there < n || there > n+1) {
		err = fmt.Errorf("%d commits were said to be stored, %d are there", n, there)
	}
	return err
}

// breaks says whether a disk lost something; a store that is torn may well take
// its reader along, which is another process for that.
func breaks(t *testing.T, f image, n int) bool {
	path := filepath.Join(t.TempDir(), "store")
	must(t, os.WriteFile(path, f, 0o600))
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "COUNT_IN="+path)
	out, err := cmd.Output()
	return err != nil || string(out) != fmt.Sprint(n, nil) && string(out) != fmt.Sprint(n+1, nil)
}

// A power failure loses nothing that was said to be stored, whatever the disk did
// with what was not synced yet. A kill cannot show that: the system writes on.
func TestReplay_powerFailureLosesNothingStored(t *testing.T) {
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("strace is not there to watch the writes")
	}
	dir := t.TempDir()
	log := filepath.Join(dir, "log")
	cmd := exec.Command(strace, "-f", "-xx", "-s", "10000000", "-e", "signal=none", "-e", "trace=openat,pwrite64,write,ftruncate,fdatasync,fsync", "-o", log, os.Args[0])
	cmd.Env = append(os.Environ(), "REPLAY_IN="+dir)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Skipf("strace cannot watch here: %v %.300s", err, out)
	}
	seen, err := os.ReadFile(log)
	must(t, err)
	steps := trace(t, seen)

	var all image
	said, first := 0, 0
	for i, s := range steps {
		all.apply(s, func(int) bool { return false })
		if s.kind == "said" {
			if said++; said == 1 {
				first = i
			}
		}
	}
	stored, err := os.ReadFile(filepath.Join(dir, "store"))
	must(t, err)
	if said != watchedCommits || !bytes.Equal(all, stored) {
		t.Fatalf("%d of %d commits were seen; the file of %d bytes, put together from what was seen, has %d", said, watchedCommits, len(stored), len(all))
	}

	cuts := 30
	if told := os.Getenv("POWER_CUTS"); told != "" {
		cuts, err = strconv.Atoi(told)
		must(t, err)
	}
	broken, tried := 0, 0
	for range cuts {
		at := first + rand.IntN(len(steps)-first)
		n := 0
		for _, s := range steps[:at] {
			if s.kind == "said" {
				n++
			}
		}
		if err := survives(t, cut(steps[:at], true), n); err != nil {
			t.Errorf("cut behind step %d of %d: %v", at, len(steps), err)
		}
		if at > len(steps)/2 && tried < 10 {
			tried++
			if breaks(t, cut(steps[:at], false), n) {
				broken++
			}
		}
	}
	if broken == 0 && tried > 0 {
		t.Error("a disk that does not sync loses nothing either: this test shows nothing")
	}
	t.Logf("%d steps, %d cuts; with syncs that do nothing %d of %d were broken", len(steps), cuts, broken, tried)
}
