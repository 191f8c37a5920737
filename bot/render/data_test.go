package render

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"halfweight/parser"
)

// shape is the example of the data contract, as it was published.
const shape = `{"text":"…","verdict":"covered|fix|short|unsettled|answer|done|unread","load_verdict":null,
 "articles":[{"name":"roller","weight_lb":14000,"need_lb":7000,"credit_lb":19800,"spare_lb":12800,"good_up_to_lb":39600,
   "tiedowns":[{"count":4,"what":"3/8 in grade 70 chain","wll_lb":6600,"limited_by":"chain","route":"direct","place":"corners","credit_lb":13200,"usable":true}],
   "set_aside":[{"count":1,"what":"3/8 in grade 70 chain","why":"loose","fix":true,"cite":"49 CFR 393.104(f)"}],
   "sinks":[{"count":1,"what":"3/8 in grade 70 chain","place":"corners"}],"mend":["one more 3/8 in grade 70 chain over"],
   "findings":[{"rule":"aggregate","subject":"","outcome":"met","cite":"49 CFR 393.106(d)","say":"…"}]}],
 "assumed":[{"code":"one-per-corner","say":"…"}],"remarks":[{"code":"near-line","say":"…"}],
 "unread":[{"text":"florp","at":17}],"ask":"…","reply":"…"}`

// fields lists the fields of each kind of object in a JSON text, in the order
// they stand.
func fields(t *testing.T, text []byte) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	d := json.NewDecoder(bytes.NewReader(text))
	token := func() json.Token {
		tok, err := d.Token()
		if err != nil {
			t.Fatal(err)
		}
		return tok
	}
	var walk func(string)
	walk = func(path string) {
		switch token() {
		case json.Delim('{'):
			for d.More() {
				key := token().(string)
				if !slices.Contains(all[path], key) {
					all[path] = append(all[path], key)
				}
				walk(path + "." + key)
			}
			token()
		case json.Delim('['):
			for d.More() {
				walk(path)
			}
			token()
		}
	}
	walk("")
	return all
}

func TestData_fieldsStandAsInTheContract(t *testing.T) {
	loose := modelC() // holds something set aside and a mend
	loose.Unread = []parser.Span{{Text: "florp", At: 17}}
	loose.Ask = modelD().Ask
	near := machine("pickup", 9700, ties(1, 4, at(chain(in38, "3/8", "70", "direct"), "front", "")), ties(5, 1, at(chain(in38, "3/8", "70", "direct"), "rear", "")))
	r := judged(*loose.Report.Articles[0].Article, *modelA().Report.Articles[0].Article, near)
	r.Unread, r.Ask = loose.Unread, loose.Ask
	if diff := cmp.Diff(fields(t, []byte(shape)), fields(t, Data(r))); diff != "" {
		t.Errorf("fields differ (- contract, + data):\n%s", diff)
	}
}

func TestData_holdsTheCount(t *testing.T) {
	var got struct {
		Articles []map[string]any
		Load     *string `json:"load_verdict"`
		Ask      *string
	}
	if err := json.Unmarshal(Data(modelA()), &got); err != nil {
		t.Fatal(err)
	}
	a := got.Articles[0]
	for field, want := range map[string]any{"name": "roller", "weight_lb": 14000.0, "need_lb": 7000.0, "credit_lb": 19800.0, "spare_lb": 12800.0, "good_up_to_lb": 39600.0} {
		if a[field] != want {
			t.Errorf("%s is %v, want %v", field, a[field], want)
		}
	}
	want := []any{
		map[string]any{"count": 4.0, "what": "3/8 in grade 70 chain", "wll_lb": 6600.0, "limited_by": "chain", "route": "direct", "place": "corners", "credit_lb": 13200.0, "usable": true},
		map[string]any{"count": 1.0, "what": "3/8 in grade 70 chain", "wll_lb": 6600.0, "limited_by": "chain", "route": "over", "place": nil, "credit_lb": 6600.0, "usable": true},
	}
	if diff := cmp.Diff(want, a["tiedowns"]); diff != "" {
		t.Errorf("tie-downs (- want, + got):\n%s", diff)
	}
	if got.Ask != nil {
		t.Errorf("asks %q, and nothing is open", *got.Ask)
	}
}

func TestData_untoldIsNullAndShortIsBelowZero(t *testing.T) {
	a := machine("dozer", 0, ties(1, 4, chain(in38, "3/8", "70", "")))
	text := string(Data(judged(a)))
	for _, want := range []string{`"weight_lb":null,"need_lb":null,"credit_lb":13200,"spare_lb":null,"good_up_to_lb":26400`, `"route":null,"place":null`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
	if text := string(Data(modelB())); !strings.Contains(text, `"spare_lb":-200,`) {
		t.Errorf("no spare of -200 in %s", text)
	}
}

func TestData_isOneLineWithoutHTMLEscapes(t *testing.T) {
	r := modelA()
	r.Text = "<b>4\nchains</b> & \"more\" \x00 \xff"
	text := string(Data(r))
	if strings.ContainsAny(text, "\n\x00") || !strings.HasPrefix(text, `{"text":"<b>4\nchains</b> & \"more\" \u0000 \ufffd","verdict":"covered"`) {
		t.Errorf("begins %.120s", text)
	}
}

func TestFull_namesMaterialsInFull(t *testing.T) {
	w := &english
	rope := chain(in12, "1/2", "", "direct")
	rope.Material = "wire rope"
	unmarked := chain(in38, "3/8", "", "direct")
	unmarked.Grade.Reading = 2
	notRead := chain(in38, "3/8", "", "direct")
	notRead.Grade.Reading = 0
	marked := notRead
	marked.Mark = 7100 * lb
	for want, got := range map[string]string{
		"3/8 in grade 70 chain":         w.full(chain(in38, "3/8", "70", "direct")),
		"10 mm grade 80 chain":          w.full(chain(10_000_000, "10 mm", "80", "direct")),
		"2 in strap":                    w.full(strap(50_800_000, "2", "over")),
		"1/2 in wire rope":              w.full(rope),
		"3/8 in chain, no mark":         w.full(unmarked),
		"3/8 in chain, grade not told":  w.full(notRead),
		"3/8 in chain":                  w.full(marked),
		"grade 70 chain, size not told": w.full(chain(0, "", "70", "direct")),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
