package render

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// constants are the string constants of the Go files of a folder whose names
// begin with a prefix: what the code can hand over to be said.
func constants(t *testing.T, folder, prefix string) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, f := range files(t, folder) {
		ast.Inspect(f, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			for i, name := range spec.Names {
				if !strings.HasPrefix(name.Name, prefix) || i >= len(spec.Values) {
					continue
				}
				if lit, ok := spec.Values[i].(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if s, err := strconv.Unquote(lit.Value); err == nil {
						all[name.Name] = s
					}
				}
			}
			return true
		})
	}
	if len(all) == 0 {
		t.Fatalf("no constant %s... in %s", prefix, folder)
	}
	return all
}

func files(t *testing.T, folder string) []*ast.File {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var list []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, f)
	}
	return list
}

func TestWords_everyQuestionHasThem(t *testing.T) {
	for name, key := range constants(t, "../../rules", "Ask") {
		if w := english.Questions[key]; w.Head == "" || w.Ask == "" {
			t.Errorf("no words for the question %s (%q)", name, key)
		}
	}
	for name, key := range constants(t, "../../rules", "settle") {
		if key == "damage" || key == "which article" {
			continue // asked in the general words
		}
		if w := english.Questions["damage/"+key]; w.Ask == "" {
			t.Errorf("no words for the measure %s (%q)", name, key)
		}
	}
}

func TestWords_everyCodeHasThem(t *testing.T) {
	for name, code := range constants(t, "../../rules", "Code") {
		if w := english.Assumptions[code]; w.Look == "" || w.Say == "" {
			t.Errorf("no words for the assumption %s (%q)", name, code)
		}
	}
	for name, code := range constants(t, "../../rules", "Remark") {
		if english.Remarks[code] == "" {
			t.Errorf("no words for the remark %s (%q)", name, code)
		}
	}
	for name, do := range constants(t, "../../rules", "Do") {
		if english.Do.Instead[do] == "" {
			t.Errorf("no words for the mend %s (%q)", name, do)
		}
	}
}

// A reason is said by some rule; that each rule has words for the reasons it
// gives is checked over many loads in TestText_everyLoadKeepsToItsBudget.
func TestWords_everyReasonHasThem(t *testing.T) {
	said := map[string]bool{}
	for key, w := range english.Findings {
		_, reason, _ := strings.Cut(key, "/")
		said[reason] = said[reason] || w.Say != ""
	}
	for name, reason := range constants(t, "../../rules", "reason") {
		if reason != "" && !said[reason] {
			t.Errorf("no words for %s (%q)", name, reason)
		}
	}
}

// What talk can say stands in the comments of its contract, in quotes.
func TestWords_everythingTalkSaysHasThem(t *testing.T) {
	quoted := regexp.MustCompile(`"([a-z ]+)"`)
	words := map[string]map[string]string{"Done": english.Done, "Cannot": english.Cannot}
	field := map[string]string{"Done": "What", "Cannot": "Why"}
	found := 0
	for _, f := range files(t, "../talk") {
		ast.Inspect(f, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok || words[spec.Name.Name] == nil {
				return true
			}
			for _, fl := range spec.Type.(*ast.StructType).Fields.List {
				if len(fl.Names) == 0 || fl.Names[0].Name != field[spec.Name.Name] {
					continue
				}
				for _, m := range quoted.FindAllStringSubmatch(fl.Doc.Text()+fl.Comment.Text(), -1) {
					found++
					if words[spec.Name.Name][m[1]] == "" {
						t.Errorf("no words for %s %q", spec.Name.Name, m[1])
					}
				}
			}
			return true
		})
	}
	if found < 20 {
		t.Errorf("only %d things found in talk's contract", found)
	}
}

func TestWords_noneIsMissing(t *testing.T) {
	var walk func(string, reflect.Value)
	walk = func(path string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				walk(path+"."+v.Type().Field(i).Name, v.Field(i))
			}
		case reflect.Map:
			if v.Len() == 0 {
				t.Errorf("%s is empty", path)
			}
			for it := v.MapRange(); it.Next(); {
				if it.Value().Kind() == reflect.String {
					walk(path+"["+it.Key().String()+"]", it.Value())
				}
			}
		case reflect.String:
			if v.String() == "" {
				t.Errorf("%s is empty", path)
			}
		}
	}
	walk("english", reflect.ValueOf(english))
}

// never are words and phrases that no reply holds; what a user wrote is quoted
// as it is.
var never = regexp.MustCompile(`(?i)\b(legal\w*|illegal\w*|complian\w*|approved|safe\w*|good to go|you'll (pass|be fine)|probably|should hold|just this once|close enough|to the next exit|officers don't|officer is wrong|invalid|errors?|syntax|you forgot|you should have|your (fault|mistake))\b|\bOK\b`)

func TestWords_neverSaidIsNeverSaid(t *testing.T) {
	var walk func(reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Map:
			for it := v.MapRange(); it.Next(); {
				walk(it.Value())
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.String:
			if hit := never.FindString(v.String()); hit != "" {
				t.Errorf("%q in %q", hit, v.String())
			}
		}
	}
	walk(reflect.ValueOf(english))
}
