package engine

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"halfweight/parser"
	"halfweight/sessions"
)

// answer is what the data of a reply says of a load.
type answer struct {
	Verdict  string
	Articles []struct {
		Name     string
		WeightLb float64 `json:"weight_lb"`
		NeedLb   float64 `json:"need_lb"`
		CreditLb float64 `json:"credit_lb"`
		Tiedowns []struct {
			Count              int
			What, Route, Place string
			Usable             bool
		}
		Findings []finding
	}
	Unread []struct{ Text string }
	Reply  string
}

type finding struct{ Rule, Subject, Outcome string }

// ask hands messages to a new chat and gives the answer to the last.
func ask(t *rapid.T, texts ...string) answer {
	e := New(&sessions.Memory{})
	var a answer
	for i, text := range texts {
		r, err := e.Handle(t.Context(), in(strconv.Itoa(i), "a", text))
		if err != nil {
			t.Fatalf("Handle %q: %v", text, err)
		}
		a = answer{}
		if err := json.Unmarshal(r.Bodies[0].Data, &a); err != nil {
			t.Fatalf("the data of %q: %v\n%s", text, err, r.Bodies[0].Data)
		}
	}
	return a
}

// judged is what an answer comes to, without the order it was told in.
func judged(a answer) string {
	var b strings.Builder
	b.WriteString(a.Verdict)
	for _, x := range a.Articles {
		fmt.Fprintf(&b, "\n%s %.2f need %.2f credit %.2f", x.Name, x.WeightLb, x.NeedLb, x.CreditLb)
		slices.SortFunc(x.Findings, func(f, g finding) int {
			return cmp.Or(strings.Compare(f.Rule, g.Rule), strings.Compare(f.Subject, g.Subject))
		})
		for _, f := range x.Findings {
			fmt.Fprintf(&b, "\n  %s %s %s", f.Rule, f.Subject, f.Outcome)
		}
	}
	return b.String()
}

func pick[T any](t *rapid.T, label string, of ...T) T { return rapid.SampledFrom(of).Draw(t, label) }

// someClauses draws a load of one article as clauses that each say by
// themselves what they say: first the article, then the tie-downs, then what is
// told of its parts. Many such loads are covered.
func someClauses(t *rapid.T) []string {
	kind := pick(t, "kind", "roller", "dozer", "tractor", "pickup", "excavator")
	out := []string{fmt.Sprintf("%d lb %s", 100*rapid.IntRange(30, 260).Draw(t, "hundreds"), kind)}
	for range rapid.IntRange(1, 3).Draw(t, "lines") {
		what := pick(t, "what", "3/8 g70", "3/8 g70", "1/2 g70", "5/16 g80", "3/8 g43", "4 in strap")
		out = append(out, strings.TrimSpace(fmt.Sprintf("%dx %s %s %s", rapid.IntRange(1, 6).Draw(t, "count"), what,
			pick(t, "route", "direct", "direct", "over", "same side", ""), pick(t, "place", "", "", "on the corners", "at the front", "at the rear", "front left"))))
	}
	switch kind {
	case "roller":
		out = append(out, pick(t, "joint", "lock bar in", "steering locked", "joint not locked"))
	case "dozer":
		out = append(out, pick(t, "blade", "blade down and chained", "blade not tied", "blade up"))
	case "excavator":
		out = append(out, pick(t, "bucket", "bucket down and chained", "bucket not tied", "bucket down"))
	}
	return out
}

func TestProperty_orderOfClausesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clauses := someClauses(t)
		told := strings.Join(clauses, ", ")
		other := strings.Join(rapid.Permutation(clauses).Draw(t, "order"), pick(t, "separator", ", ", "\n", "; ", ". "))
		if d := gocmp.Diff(judged(ask(t, told)), judged(ask(t, other))); d != "" {
			t.Fatalf("%q (-) and %q (+):\n%s", told, other, d)
		}
	})
}

func TestProperty_oneMessageOrTwoIsOneLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clauses := someClauses(t)
		at := rapid.IntRange(1, len(clauses)-1).Draw(t, "cut")
		whole := ask(t, strings.Join(clauses, ", "))
		parts := ask(t, strings.Join(clauses[:at], ", "), strings.Join(clauses[at:], ", "))
		if d := gocmp.Diff(judged(whole), judged(parts)); d != "" {
			t.Fatalf("%q, cut at %d (-whole +cut):\n%s", clauses, at, d)
		}
	})
}

func TestProperty_anUnknownWordLeavesTheAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clauses := someClauses(t)
		word := rapid.StringMatching(`[bcdfghjklmnpqrstvwxz]{6,9}`).Draw(t, "word")
		with := slices.Insert(slices.Clone(clauses), rapid.IntRange(0, len(clauses)).Draw(t, "where"), word)
		m := parser.Read(word)
		if len(m.Unread) != 1 || m.Grave {
			t.Skip("a slip of a known word")
		}
		a := ask(t, strings.Join(with, ", "))
		if len(a.Unread) != 1 || a.Unread[0].Text != word {
			t.Fatalf("%q: unread %v", with, a.Unread)
		}
		if !strings.Contains(a.Reply, word) {
			t.Fatalf("%q: the reply does not say that %q is unread: %s", with, word, a.Reply)
		}
		if d := gocmp.Diff(judged(ask(t, strings.Join(clauses, ", "))), judged(a)); d != "" {
			t.Fatalf("%q, with %q (+):\n%s", clauses, word, d)
		}
	})
}

// What would turn an answer, unread, keeps the load from being covered.
func TestProperty_coveredHasNothingGraveUnread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clauses := someClauses(t)
		stray := pick(t, "stray", "17", "4.5x", "-3", "g71", "minus 3", "without", "14.000", "not", "0x", "x0", "201x", "3/7", "never", "grade", "5 florp", "except one", "only", "instead", "9999999 lb")
		i := rapid.IntRange(0, len(clauses)).Draw(t, "where")
		text := strings.Join(slices.Insert(clauses, i, stray), ", ")
		m := parser.Read(text)
		if len(m.Unread) == 0 {
			t.Skip("read after all")
		}
		if a := ask(t, text); a.Verdict == "covered" || a.Verdict == "fix" {
			t.Fatalf("%q is %s with %v unread", text, a.Verdict, a.Unread)
		}
	})
}

// The load of a covered answer, said in the words of its data, is covered and
// adds up to the same.
func TestProperty_aCoveredLoadReadsBackCovered(t *testing.T) {
	covered := 0
	rapid.Check(t, func(t *rapid.T) {
		clauses := someClauses(t)
		a := ask(t, strings.Join(clauses, ", "))
		if a.Verdict != "covered" {
			t.Skip(a.Verdict)
		}
		covered++
		x := a.Articles[0]
		said := []string{fmt.Sprintf("%s %v lb", x.Name, x.WeightLb)}
		for _, d := range x.Tiedowns {
			said = append(said, strings.TrimSpace(fmt.Sprintf("%d %s %s %s", d.Count, d.What, d.Route, d.Place)))
		}
		for _, c := range clauses[1:] {
			if !strings.Contains(c, "x ") {
				said = append(said, c)
			}
		}
		b := ask(t, strings.Join(said, ", "))
		if d := gocmp.Diff(judged(a), judged(b)); d != "" || len(b.Unread) > 0 {
			t.Fatalf("%q is covered (-); read back from %q, unread %v (+):\n%s", clauses, said, b.Unread, d)
		}
	})
	if covered == 0 {
		t.Error("no load was covered")
	}
}

// rank orders the verdicts from good to bad.
var rank = map[string]int{"covered": 0, "fix": 1, "unsettled": 2, "short": 3}

// A weight told in kilograms, rounded up, is judged no better than the pounds it
// stands for, and rounded down no worse. Between 10,000 lb and 4,536 kg the two
// limits part.
func TestProperty_poundsAndKilogramsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clauses := someClauses(t)
		lb, kind, _ := strings.Cut(clauses[0], " lb ")
		n, err := strconv.Atoi(lb)
		if err != nil {
			t.Fatal(err)
		}
		if n > 9900 && n < 10100 {
			t.Skip("where the limits part")
		}
		micro := n * 45359237 // hundred-millionths of a kilogram, exact
		up, down := (micro+99999999)/100000000, micro/100000000
		rest := ", " + strings.Join(clauses[1:], ", ")
		told := ask(t, clauses[0]+rest)
		above := ask(t, fmt.Sprintf("%d kg %s%s", up, kind, rest))
		below := ask(t, fmt.Sprintf("%d kg %s%s", down, kind, rest))
		if rank[above.Verdict] < rank[told.Verdict] || rank[below.Verdict] > rank[told.Verdict] {
			t.Fatalf("%d lb is %s, %d kg is %s, %d kg is %s: %q", n, told.Verdict, up, above.Verdict, down, below.Verdict, rest)
		}
		if need := above.Articles[0].NeedLb - told.Articles[0].NeedLb; need < 0 || need > 2 {
			t.Fatalf("%d lb needs %v, %d kg needs %v", n, told.Articles[0].NeedLb, up, above.Articles[0].NeedLb)
		}
	})
}

// What a driver may send of a tie-down that no longer holds. None of it may
// leave the load covered; what is not read must at least be said not to be.
func TestHandle_badNewsNeverLeavesALoadCovered(t *testing.T) {
	const load = "22000 lb roller, lock bar in, 1x 4 in strap over, 4x 3/8 g70 direct on the corners"
	for _, news := range []string{
		"front left is loose", "front left came loose", "loose front left", "the front left chain is loose", "front left has some slack", "front left backed off", "front left keeps backing off", "front left isn't tight", "front left not tight anymore", "front left is not as tight as it was", "front left is slack again", "front left worked loose on the grade", "front left loosened up", "fl loose", "LF loose", "driver side front is loose", "left front needs tightening", "front left needs another pull", "front left went slack", "front left could be tighter",
		"one is loose", "one of them is loose", "one chain came loose", "a chain is loose", "one of the chains backed off", "two are loose", "2 loose", "all loose", "they are all loose", "both rears loose", "rears are loose", "everything is loose", "none of them are tight", "nothing is tight", "not tight", "it came loose", "it's loose", "loose", "loose again", "backed off again", "slack",
		"front left popped off", "front left came off", "front left fell off", "front left is gone", "front left is missing", "lost front left", "lost the front left", "i lost a chain", "lost one", "lost a chain", "a chain came off", "one came off", "one chain fell off", "one chain is gone", "one is missing", "we are missing a chain", "a chain is missing", "took off front left", "take off front left", "take front left off", "took the front left off", "removed front left", "had to take one off", "front left off", "took two off", "unhooked front left",
		"front left broke", "front left chain broke", "front left chain snapped", "one chain broke", "a chain snapped", "chain broke", "broken chain", "broken link on front left", "front left has a broken link", "front left has a bad link", "front left hook is cracked", "cracked hook on front left", "cracked hook", "a hook cracked", "one hook is bent", "bent hook front left", "front left hook opened up", "front left link is stretched", "stretched link", "twisted link in one chain", "one chain has a weld on it", "front left is worn", "front left looks worn", "front left worn thin", "front left has a gouge", "one chain has a nick", "front left has a cut link", "front left is damaged", "one is damaged", "damaged chain", "one chain is bad", "bad chain front left", "front left is rusted through", "knot in the front left chain",
		"front left binder broke", "front left binder popped", "front left binder popped open", "binder popped off", "a binder broke", "binder won't close", "binder handle came off", "front left binder is bent", "front left binder handle is not tied", "no binder on front left", "front left has no binder", "lost a binder",
		"front left d ring is cracked", "front left ring pulled out", "front left anchor broke", "front left ring is bent",
		"front left and front right are loose", "front left and rear right came off", "front left loose, rear right worn", "front left loose and rear left too",
		"lock bar came out", "lock bar is out", "lock bar fell out", "lock bar not in", "lock bar broke", "lock bar is missing", "lock bar is off", "lock bar is loose", "pulled the lock bar", "took the lock bar out", "joint is not locked", "joint unlocked", "joint came unlocked", "no lock bar", "lock pin sheared",
		"it weighs 60000", "it weighs 60000 lb", "weighs 60000", "weight is 60000 lb", "actually 60000 lb", "sorry 60000", "the roller is 60000 lb", "ticket says 60000", "scaled at 60000 lb",
		"they are 1/4 inch", "chains are 1/4", "the chains are g30", "they are grade 30", "no marks on the chains", "cant find a mark on any of them", "they read 500", "binders read 500", "binders are 500 lb", "hooks are 500 lb", "d-rings are 500 lb", "trailer d-rings 500",
		"make them all 1/4", "only 3 on", "only 3 chains", "3 chains not 4", "sorry 3", "make that 3", "there are only 3 chains",
	} {
		e := New(&sessions.Memory{})
		if b := send(t, e, "a", load); !strings.Contains(string(b.Data), `"verdict":"covered"`) {
			t.Fatalf("%q is not covered to begin with: %s", load, b.Data)
		}
		b := send(t, e, "a", news)
		var a struct {
			Verdict string
			Load    *string `json:"load_verdict"`
			Unread  []struct{ Text string }
			Ask     string
		}
		if err := json.Unmarshal(b.Data, &a); err != nil {
			t.Fatal(err)
		}
		if a.Verdict == "covered" || a.Load != nil && *a.Load == "covered" && len(a.Unread) == 0 {
			t.Errorf("%q: %s", news, b.Text)
		}
	}
}
