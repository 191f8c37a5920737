package sessions

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"
)

const dumps = "../testdata/sessions/"

// readDump gives the lines of a dump, without the notes.
func readDump(t *testing.T, file string) (lines []string) {
	t.Helper()
	f, err := os.Open(dumps + file)
	must(t, err)
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		if line := s.Text(); !strings.HasPrefix(line, "#") {
			lines = append(lines, line)
		}
	}
	return lines
}

// fromDump makes a file of a dump.
func fromDump(t *testing.T, lines []string) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "store")
	file, err := bbolt.Open(path, 0o600, nil)
	must(t, err)
	must(t, file.Update(func(tx *bbolt.Tx) error {
		if _, err := tx.CreateBucket(bucketMeta); err != nil {
			return err
		}
		for _, line := range lines {
			bucket, rest, _ := strings.Cut(line, " ")
			quoted, err := strconv.QuotedPrefix(rest)
			must(t, err)
			key, err := strconv.Unquote(quoted)
			must(t, err)
			value, err := strconv.Unquote(strings.TrimSpace(rest[len(quoted):]))
			must(t, err)
			b, err := tx.CreateBucketIfNotExists([]byte(bucket))
			must(t, err)
			must(t, b.Put([]byte(key), []byte(value)))
		}
		return nil
	}))
	must(t, file.Close())
	return path
}

// dump is the lines of a store.
func dump(t *testing.T, d *DB) (lines []string) {
	t.Helper()
	must(t, d.file.View(func(tx *bbolt.Tx) error {
		for _, name := range buckets {
			err := tx.Bucket(name).ForEach(func(k, v []byte) error {
				lines = append(lines, fmt.Sprintf("%s %s %s", name, quote(k), quote(v)))
				return nil
			})
			if err != nil {
				return err
			}
		}
		return nil
	}))
	return lines
}

// quote shows printable ASCII as it is and any other byte by its number.
func quote(b []byte) string {
	var s strings.Builder
	s.WriteByte('"')
	for _, c := range b {
		switch {
		case c == '"' || c == '\\':
			s.WriteByte('\\')
			s.WriteByte(c)
		case c < ' ' || c > '~':
			fmt.Fprintf(&s, `\x%02x`, c)
		default:
			s.WriteByte(c)
		}
	}
	s.WriteByte('"')
	return s.String()
}

func TestOpen_bringsAnOldFileToThePresent(t *testing.T) {
	d := open(t, fromDump(t, readDump(t, "v1.txt")))
	if diff := cmp.Diff(readDump(t, "v4.txt"), dump(t, d)); diff != "" {
		t.Errorf("-wanted +got:\n%s", diff)
	}
	want := Row{Chat: "tg:17", Seq: 1, Event: "90", Body: []byte(`{"text":"first"}`)}
	if diff := cmp.Diff(want, next(t, d, "tg:17")); diff != "" {
		t.Error(diff)
	}
	if got := look(t, d, "con:yard", "3"); string(got.State) != `{"v":1,"units":"kg"}` || len(got.Bodies) != 2 {
		t.Errorf("got %+v", got)
	}
}

func TestOpen_fileOfAVersionBeforeBecomesThePresent(t *testing.T) {
	for was, is := range map[string]string{"v2.txt": "v4.txt", "v3.txt": "v4.txt", "v3-odd.txt": "v4-odd.txt"} {
		t.Run(was, func(t *testing.T) {
			d := open(t, fromDump(t, readDump(t, was)))
			if diff := cmp.Diff(readDump(t, is), dump(t, d)); diff != "" {
				t.Error(diff)
			}
			must(t, d.file.View(func(tx *bbolt.Tx) error {
				return tx.ForEach(func(name []byte, _ *bbolt.Bucket) error {
					if !slices.ContainsFunc(buckets, func(b []byte) bool { return bytes.Equal(b, name) }) {
						t.Errorf("the bucket %s is left", name)
					}
					return nil
				})
			}))
		})
	}
}

// The numbers go on behind those there were, or rows would change their order.
func TestOpen_oldFileGoesOnInOrder(t *testing.T) {
	d := open(t, fromDump(t, readDump(t, "v3.txt")))
	commit(t, d, Change{Chat: "tg:17", Event: "92", Bodies: bodies("third"), Send: true})
	for _, want := range []string{`{"text":"first"}`, `{"text":"second"}`, `{"text":"its rest"}`, "third"} {
		r := next(t, d, "tg:17")
		if string(r.Body) != want {
			t.Errorf("the outbox holds %q, want %q", r.Body, want)
		}
		must(t, d.Sent(t.Context(), r, "id of "+want))
	}
	commit(t, d, Change{Chat: "tg:17", Event: "91 edited", For: "91", Bodies: bodies("better"), Send: true})
	if r := next(t, d, "tg:17"); r.Replaces != `id of {"text":"second"}` {
		t.Errorf("it replaces %q", r.Replaces)
	}
}

func TestOpen_presentFileStaysAsItIs(t *testing.T) {
	lines := readDump(t, "v4.txt")
	d := open(t, fromDump(t, lines))
	if diff := cmp.Diff(lines, dump(t, d)); diff != "" {
		t.Error(diff)
	}
}

func TestOpen_leavesAloneWhatItDoesNotKnow(t *testing.T) {
	later := `meta "version" "\x00\x00\x00\x00\x00\x00\x00\x05"`
	for _, c := range []struct{ name, version, why string }{
		{"later program", later, "later program"},
		{"no version", "", "ends too early"},
		{"version 0", `meta "version" "\x00\x00\x00\x00\x00\x00\x00\x00"`, "no store of this program"},
	} {
		t.Run(c.name, func(t *testing.T) {
			lines := readDump(t, "v4.txt")[1:]
			if c.version != "" {
				lines = append([]string{c.version}, lines...)
			}
			path := fromDump(t, lines)
			before, err := os.ReadFile(path)
			must(t, err)
			if _, err := Open(path); err == nil || !strings.Contains(err.Error(), c.why) || !strings.Contains(err.Error(), path) {
				t.Errorf("got %v", err)
			}
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Error("the file was changed")
			}
		})
	}
	t.Run("another program's file", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "store")
		file, err := bbolt.Open(path, 0o600, nil)
		must(t, err)
		must(t, file.Update(func(tx *bbolt.Tx) error { _, err := tx.CreateBucket([]byte("widgets")); return err }))
		must(t, file.Close())
		if _, err := Open(path); err == nil || !strings.Contains(err.Error(), `"widgets"`) {
			t.Errorf("got %v", err)
		}
	})
	t.Run("a text", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "store")
		must(t, os.WriteFile(path, []byte(strings.Repeat("a note, no store\n", 1000)), 0o600))
		if _, err := Open(path); err == nil || !strings.Contains(err.Error(), path) {
			t.Errorf("got %v", err)
		}
	})
}
