package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// law says what one package may import beside the standard library.
type law struct {
	ours    []string // packages of this module; a pattern as in path.Match
	outside []string // modules
	pure    bool     // neither files, network, clock nor chance: nothing of impure
}

// laws is who may import whom. A package that is not here may not exist; a
// module stands with one package, so that it can be exchanged in one place.
var laws = map[string]law{
	"rules/load":           {pure: true},
	"rules/tables":         {ours: []string{"rules/load"}, pure: true},
	"rules":                {ours: []string{"rules/load", "rules/tables"}, pure: true},
	"parser":               {ours: []string{"rules/load"}, outside: []string{"github.com/alecthomas/participle/v2"}, pure: true},
	"rules/hold":           {ours: []string{"rules/load"}, outside: []string{"gonum.org/v1/gonum"}, pure: true},
	"sessions":             {outside: []string{"go.etcd.io/bbolt"}},
	"bot/wire":             {},
	"bot/talk":             {ours: []string{"parser", "rules", "rules/*"}, pure: true},
	"bot/render":           {ours: []string{"parser", "bot/talk", "bot/wire", "rules", "rules/load", "rules/tables"}, pure: true},
	"bot/engine":           {ours: []string{"parser", "bot/wire", "bot/talk", "bot/render", "sessions"}, outside: []string{"golang.org/x/time"}},
	"bot/telegram/apitest": {},
	"bot/sms":              {ours: []string{"bot/wire"}, outside: []string{"golang.org/x/text"}},
	"bot/telegram":         {ours: []string{"bot/wire"}, outside: []string{"github.com/go-telegram/bot"}},
	"bot":                  {ours: []string{"*", "*/*"}, outside: []string{"golang.org/x/term"}},
}

// testOnly are the modules that tests may import besides.
var testOnly = []string{"github.com/google/go-cmp", "github.com/rogpeppe/go-internal", "pgregory.net/rapid"}

// impure are the packages of the standard library that bring something in which
// is neither text nor load.
var impure = []string{"bufio", "io/ioutil", "log", "log/slog", "math/rand", "math/rand/v2", "net", "net/http", "os", "os/exec", "os/signal", "path/filepath", "syscall", "unsafe"}

// ends are the packages that ask what time it is: the time of an event comes with
// it everywhere else.
var ends = []string{"bot", "bot/engine", "bot/sms", "bot/telegram", "bot/telegram/apitest"}

const module = "halfweight"

type pkg struct {
	ImportPath, Dir                    string
	GoFiles                            []string
	Imports, TestImports, XTestImports []string
}

func packages(t *testing.T) []pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Dir,GoFiles,Imports,TestImports,XTestImports", "./...")
	cmd.Dir = ".."
	out, err := cmd.Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("go list: %v\n%s", err, exit.Stderr)
		}
		t.Fatalf("go list: %v", err)
	}
	var all []pkg
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p pkg
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatalf("read what go list says: %v", err)
		}
		all = append(all, p)
	}
}

func TestImports_keepTheLaw(t *testing.T) {
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module+"/")
		l, ok := laws[name]
		if !ok {
			t.Errorf("package %s stands in no row of the import law", name)
		}
		for _, imp := range p.Imports {
			if why := l.forbids(imp); why != "" {
				t.Errorf("%s imports %s: %s", name, imp, why)
			}
		}
		for _, imp := range slices.Concat(p.TestImports, p.XTestImports) {
			if outside(imp) && !within(imp, testOnly) && !within(imp, l.outside) {
				t.Errorf("a test of %s imports %s: not a module for tests", name, imp)
			}
		}
	}
}

func TestImports_oneImporterToAModule(t *testing.T) {
	owner := map[string]string{}
	for name, l := range laws {
		for _, m := range l.outside {
			if other, ok := owner[m]; ok {
				t.Errorf("%s stands with %s and with %s", m, other, name)
			}
			owner[m] = name
		}
	}
}

func TestImports_clockIsReadAtTheEndsOnly(t *testing.T) {
	for _, p := range packages(t) {
		if slices.Contains(ends, strings.TrimPrefix(p.ImportPath, module+"/")) {
			continue
		}
		for _, file := range p.GoFiles {
			src, err := os.ReadFile(filepath.Join(p.Dir, file))
			if err != nil {
				t.Fatal(err)
			}
			if bytes.Contains(src, []byte("time.Now")) {
				t.Errorf("%s/%s reads the clock: the time of an event comes with it", p.ImportPath, file)
			}
		}
	}
}

func TestForbids_tellsBreachesApart(t *testing.T) {
	for _, c := range []struct {
		from, to string
		breach   bool
	}{
		{"parser", "halfweight/rules", true},
		{"parser", "halfweight/rules/load", false},
		{"parser", "github.com/alecthomas/participle/v2/lexer", false},
		{"rules", "github.com/alecthomas/participle/v2", true},
		{"rules", "os", true},
		{"sessions", "os", false},
		{"sessions", "halfweight/rules/load", true},
		{"bot/talk", "halfweight/sessions", true},
		{"bot/talk", "halfweight/rules/tables", false},
		{"bot/wire", "halfweight/bot/talk", true},
		{"bot/engine", "pgregory.net/rapid", true},
	} {
		if got := laws[c.from].forbids(c.to) != ""; got != c.breach {
			t.Errorf("%s imports %s: breach %v, want %v", c.from, c.to, got, c.breach)
		}
	}
}

// forbids says why a package under this law may not import imp; "" is fine.
func (l law) forbids(imp string) string {
	if ours, ok := strings.CutPrefix(imp, module+"/"); ok {
		if !slices.ContainsFunc(l.ours, func(pattern string) bool { ok, _ := path.Match(pattern, ours); return ok }) {
			return "not one of those it may know"
		}
	} else if outside(imp) {
		if !within(imp, l.outside) {
			return "a module that belongs to another package, or to none"
		}
	} else if l.pure && slices.Contains(impure, imp) {
		return "no files, network, clock or chance here"
	}
	return ""
}

// outside says whether an import path is of another module: its first part has
// a dot.
func outside(imp string) bool {
	first, _, _ := strings.Cut(imp, "/")
	return strings.Contains(first, ".")
}

// within says whether imp is a package of one of the modules.
func within(imp string, modules []string) bool {
	return slices.ContainsFunc(modules, func(m string) bool { return imp == m || strings.HasPrefix(imp, m+"/") })
}
