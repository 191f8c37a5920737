package talk

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

var noon = time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)

// chat runs hand-built messages through stepMessage, one after the other.
type chat struct {
	t   *testing.T
	s   State
	now time.Time
	n   int
}

func newChat(t *testing.T) *chat { return &chat{t: t, now: noon} }

// say sends one message of acts. The state goes through JSON, as it does between
// two events, and must not be changed in place.
func (c *chat) say(acts ...parser.Act) Reply {
	return c.send(parser.Message{Text: "hand-built", Acts: acts})
}

func (c *chat) send(msg parser.Message) Reply {
	c.t.Helper()
	before := marshal(c.t, c.s)
	c.n++
	s, r := stepMessage(c.s, Event{ID: fmt.Sprint(c.n), Text: msg.Text}, msg, c.now)
	if after := marshal(c.t, c.s); after != before {
		c.t.Errorf("the state given was changed:\n%s\n%s", before, after)
	}
	c.s = State{}
	if err := json.Unmarshal([]byte(marshal(c.t, s)), &c.s); err != nil {
		c.t.Fatal(err)
	}
	return r
}

func marshal(t *testing.T, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// credit is what the first article's tie-downs count for, in pounds.
func credit(r Reply) int {
	if r.Report == nil || len(r.Report.Articles) == 0 {
		return -1
	}
	return int(r.Report.Articles[0].Credit.Pounds() + 0.5)
}

// outcome is how a rule of the first article ends; "" where it is not listed.
func outcome(r Reply, rule string) string {
	if r.Report == nil {
		return ""
	}
	for _, f := range r.Report.Articles[0].Findings {
		if f.Rule == rule {
			return f.Outcome.String()
		}
	}
	return ""
}

func cannot(r Reply) string {
	for _, s := range r.Says {
		if c, ok := s.(Cannot); ok {
			return c.Why
		}
	}
	return ""
}

func pounds(n int) load.Mass { return load.Mass(n) * load.Pound }

func chain(size load.Length, word, grade string, route load.Route) load.TieDown {
	return load.TieDown{Material: load.Chain, Size: size, SizeWord: word, Grade: load.Grade{Value: grade, Reading: load.Read}, Route: route}
}

func g70(route load.Route) load.TieDown { return chain(load.Inch*3/8, "3/8", "70", route) }

func strap(inches load.Length, route load.Route) load.TieDown {
	return load.TieDown{Material: load.Webbing, Size: inches * load.Inch, SizeWord: fmt.Sprint(inches), Route: route}
}

func at(x load.TieDown, end, side string) load.TieDown {
	x.Place = load.Place{End: end, Side: side}
	return x
}

// of is one clause of n alike.
type clause struct {
	n   int
	tie load.TieDown
}

func article(kind string, lb int, clauses ...clause) parser.Article {
	a := parser.Article{Article: load.Article{Name: kind, Kind: kind}}
	if lb > 0 {
		a.Weight = load.Exact(pounds(lb), false)
	}
	for i, c := range clauses {
		a.Lines = append(a.Lines, parser.Line{Count: c.n, Told: true, Named: c.tie.Material != ""})
		for range c.n {
			c.tie.Line = i
			a.Ties = append(a.Ties, c.tie)
		}
	}
	return a
}

func told(a parser.Article) parser.Describe { return parser.Describe{Articles: []parser.Article{a}} }

func facts(f load.Article) parser.Describe {
	return told(parser.Article{Article: f})
}

func roller(lb int, clauses ...clause) parser.Describe {
	a := article("roller", lb, clauses...)
	a.Joint.Locked = load.Yes
	return told(a)
}

func loose(ref parser.Ref) parser.Change {
	return parser.Change{Ref: ref, Edit: parser.Edit{Loose: true}}
}

func there2(end, side string) parser.Ref {
	return parser.Ref{Like: load.TieDown{Place: load.Place{End: end, Side: side}}}
}

func undo() parser.House { return parser.House{Word: "undo"} }

func want(t *testing.T, what string, got, want any) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", what, diff)
	}
}

func TestStep_rollerBuiltPieceByPiece(t *testing.T) {
	c := newChat(t)
	r := c.say(told(func() parser.Article { a := article("roller", 14000); a.Articulated = load.Yes; return a }()))
	want(t, "verdict", r.Verdict, "unsettled")
	want(t, "question", r.Ask.Key, rules.AskTies)
	r = c.say(parser.Describe{Add: true, Articles: []parser.Article{article("", 0, clause{4, g70(load.Direct)})}})
	want(t, "verdict", r.Verdict, "unsettled")
	want(t, "question", r.Ask.Key, rules.AskJoint)
	want(t, "credit", credit(r), 13200)
	r = c.say(facts(load.Article{Joint: load.Joint{Locked: load.Yes, How: load.SteeringLock}}))
	want(t, "verdict", r.Verdict, "covered")
	r = c.say(parser.Describe{Add: true, Articles: []parser.Article{article("", 0, clause{1, g70(load.Over)})}})
	want(t, "credit", credit(r), 19800)
	r = c.say(facts(load.Article{Weight: load.Exact(pounds(15200), false)}))
	want(t, "verdict", r.Verdict, "covered")
	r = c.say(loose(there2("front", "left")))
	want(t, "verdict", r.Verdict, "unsettled")
	want(t, "credit", credit(r), 16500)
	want(t, "corners", outcome(r, "corners"), "untold")
	r = c.say(undo())
	want(t, "verdict", r.Verdict, "covered")
	want(t, "credit", credit(r), 19800)
	want(t, "weight", r.Report.Articles[0].Article.Weight.Told, pounds(15200))
}

func TestStep_undoOfAllLeavesNoLoad(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	r := c.say(undo())
	want(t, "verdict", r.Verdict, "done")
	r = c.say(undo())
	want(t, "verdict", r.Verdict, "done")
	want(t, "says", r.Says, []Say{Done{What: "nothing to undo"}})
}

func TestStep_newLoadReplacesAndUndoBringsItBack(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	r := c.say(told(article("pickup", 6000, clause{2, g70(load.Direct)})))
	want(t, "articles", len(r.Report.Articles), 1)
	want(t, "credit", credit(r), 6600)
	r = c.say(undo())
	want(t, "credit", credit(r), 13200)
	want(t, "name", r.Report.Articles[0].Article.Name, "roller")
	r = c.say(parser.House{Word: "new load"})
	want(t, "verdict", r.Verdict, "done")
	r = c.say(undo())
	want(t, "verdict", r.Verdict, "covered")
}

func TestStep_undoReachesBackTwentyTurns(t *testing.T) {
	c := newChat(t)
	c.say(roller(10000, clause{4, g70(load.Direct)}))
	for i := range 30 {
		c.say(facts(load.Article{Weight: load.Exact(pounds(10001+i), false)}))
	}
	for i := range kept {
		r := c.say(undo())
		want(t, fmt.Sprint("weight after undo ", i+1), r.Report.Articles[0].Article.Weight.Told, pounds(10029-i))
	}
	r := c.say(undo())
	want(t, "says", r.Says, []Say{Done{What: "nothing to undo"}})
	want(t, "verdict", r.Verdict, "covered")
}

func TestDescribe_whereFactsGo(t *testing.T) {
	base := roller(14000, clause{4, g70(load.Direct)})
	for _, tt := range []struct {
		name     string
		then     parser.Act
		articles []string
		credit   int
		weight   int
	}{
		{"weight alone", facts(load.Article{Weight: load.Exact(pounds(9000), false)}), []string{"roller"}, 13200, 9000},
		{"tie-downs alone are added", told(article("", 0, clause{1, g70(load.Over)})), []string{"roller"}, 19800, 14000},
		{"the same noun with a weight and tie-downs is a new load", roller(15000, clause{4, g70(load.Over)}), []string{"roller"}, 26400, 15000},
		{"weight and tie-downs without a noun are a load of their own", told(article("", 15000, clause{2, g70(load.Direct)})), []string{""}, 6600, 15000},
		{"add joins a second article", parser.Describe{Add: true, Articles: []parser.Article{article("pickup", 5000, clause{2, g70(load.Direct)})}}, []string{"roller", "pickup"}, 13200, 14000},
		{"the roller weighs", parser.Describe{Definite: true, Articles: []parser.Article{article("roller", 16000)}}, []string{"roller"}, 13200, 16000},
		{"add to the roller", parser.Describe{Add: true, Definite: true, Articles: []parser.Article{article("roller", 0, clause{1, g70(load.Over)})}}, []string{"roller"}, 19800, 14000},
		{"its noun with a fact only", told(func() parser.Article { a := article("roller", 0); a.Articulated = load.Yes; return a }()), []string{"roller"}, 13200, 14000},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			c.say(base)
			r := c.say(tt.then)
			var names []string
			for _, a := range r.Report.Articles {
				names = append(names, a.Article.Name)
			}
			want(t, "articles", names, tt.articles)
			want(t, "credit", credit(r), tt.credit)
			want(t, "weight", r.Report.Articles[0].Article.Weight.Told, pounds(tt.weight))
		})
	}
}

func TestDescribe_tieDownsFirstThenTheMachineAreOneLoad(t *testing.T) {
	c := newChat(t)
	r := c.say(told(article("", 0, clause{4, g70(load.Direct)})))
	want(t, "verdict", r.Verdict, "unsettled")
	r = c.say(roller(14000))
	want(t, "verdict", r.Verdict, "covered")
	want(t, "credit", credit(r), 13200)
}

func TestDescribe_answerToWhatIsItNamesTheArticleInHand(t *testing.T) {
	c := newChat(t)
	r := c.say(told(article("machine", 12000, clause{4, g70(load.Direct)})))
	want(t, "question", r.Ask.Key, rules.AskKind)
	r = c.say(told(article("tractor", 0)))
	want(t, "verdict", r.Verdict, "covered")
	want(t, "name", r.Report.Articles[0].Article.Name, "tractor")
}

func TestDescribe_loneKindIsAQuestion(t *testing.T) {
	c := newChat(t)
	a := article("", 0, clause{1, g70("")})
	a.Lines[0].Told = false
	r := c.say(told(a))
	want(t, "verdict", r.Verdict, "answer")
	rated, ok := r.Says[0].(Rating)
	if !ok {
		t.Fatalf("says %T, want a rating", r.Says[0])
	}
	want(t, "rating", rated.Count.Lines[0].WLL, pounds(6600))
	if len(c.s.Turns) > 0 {
		t.Error("a question changed the load")
	}
}

func TestDescribe_kindToldLaterGoesToThoseThatLackIt(t *testing.T) {
	c := newChat(t)
	r := c.say(told(article("grader", 16000, clause{4, load.TieDown{Material: load.Chain, Route: load.Direct}})))
	want(t, "question", r.Ask.Key, rules.AskSize)
	a := article("", 0, clause{1, g70("")})
	a.Lines[0].Told = false
	r = c.say(told(a))
	want(t, "credit", credit(r), 13200)
	want(t, "pieces", len(r.Report.Articles[0].Article.Ties), 4)
}

func TestDescribe_aHurtKindIsOneOfThoseInHand(t *testing.T) {
	c := newChat(t)
	c.say(told(article("car", 3600, clause{4, strap(2, load.Direct)})))
	x := strap(2, "")
	x.State.Damage = []load.Damage{cut(load.Inch)}
	a := article("", 0, clause{1, x})
	a.Lines[0].Told = false
	r := c.say(told(a))
	want(t, "verdict", r.Verdict, "fix")
	want(t, "credit", credit(r), 3000)
}

func TestDescribe_placesToldLaterGoToThePiecesInHand(t *testing.T) {
	c := newChat(t)
	c.say(told(article("tractor", 14000, clause{4, g70(load.Over)})))
	r := c.say(told(article("", 0, clause{2, at(load.TieDown{}, "front", "")}, clause{2, at(load.TieDown{}, "rear", "")})))
	want(t, "verdict", r.Verdict, "covered")
	want(t, "pieces", len(r.Report.Articles[0].Article.Ties), 4)
}

func TestMerge_laterFactsContradictAndReplace(t *testing.T) {
	excavator := told(article("excavator", 30000, clause{8, g70(load.Direct)}))
	bucket := func(p load.Part) parser.Describe {
		p.Name = "bucket"
		return facts(load.Article{Parts: []load.Part{p}})
	}
	onBucket := g70(load.Over)
	onBucket.Place.On = "bucket"
	for _, tt := range []struct {
		name  string
		steps []parser.Act
		want  string
	}{
		{"not tied, then tied", []parser.Act{bucket(load.Part{Tied: load.No}), bucket(load.Part{Tied: load.Yes})}, "met"},
		{"tied, then not tied", []parser.Act{bucket(load.Part{Tied: load.Yes}), bucket(load.Part{Tied: load.No})}, "short"},
		{"up, then down and tied", []parser.Act{bucket(load.Part{Down: load.No}), bucket(load.Part{Down: load.Yes, Tied: load.Yes})}, "met"},
		{"tied, then on hydraulics only", []parser.Act{bucket(load.Part{Tied: load.Yes}), bucket(load.Part{Hydraulics: true})}, "short"},
		{"tied, then loose", []parser.Act{bucket(load.Part{Tied: load.Yes}), bucket(load.Part{Loose: true})}, "short"},
		{"chain over it, then not tied", []parser.Act{told(article("", 0, clause{1, onBucket})), bucket(load.Part{Tied: load.No})}, "short"},
		{"chain over it, then loose", []parser.Act{told(article("", 0, clause{1, onBucket})), bucket(load.Part{Loose: true})}, "short"},
		{"not tied, then a chain over it", []parser.Act{bucket(load.Part{Tied: load.No}), told(article("", 0, clause{1, onBucket}))}, "met"},
		{"chained, then that chain is loose", []parser.Act{bucket(load.Part{Tied: load.Yes}), loose(parser.Ref{Like: load.TieDown{Place: load.Place{On: "bucket"}}})}, "short"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := newChat(t)
			c.say(excavator)
			var r Reply
			for _, s := range tt.steps {
				r = c.say(s)
			}
			want(t, "bucket", outcome(r, "accessory"), tt.want)
		})
	}
}

func TestMerge_jointLockedAndUnlocked(t *testing.T) {
	c := newChat(t)
	c.say(roller(18000, clause{4, g70(load.Direct)}))
	r := c.say(facts(load.Article{Joint: load.Joint{Locked: load.No}}))
	want(t, "articulation", outcome(r, "articulation"), "short")
	r = c.say(facts(load.Article{Joint: load.Joint{Locked: load.Yes, How: load.SteeringLock}}))
	want(t, "articulation", outcome(r, "articulation"), "met")
}

func TestGrave_holdsTheVerdictUntilToldAgain(t *testing.T) {
	c := newChat(t)
	a := article("roller", 14000, clause{4, g70(load.Direct)})
	r := c.send(parser.Message{Text: "x", Acts: []parser.Act{told(a)}, Grave: true, Unread: []parser.Span{{Text: "loos"}}})
	want(t, "verdict", r.Verdict, "unsettled")
	r = c.say(parser.Answer{Word: "locked"})
	want(t, "verdict after a bare answer", r.Verdict, "unsettled")
	want(t, "doubt", r.Doubt, true)
	r = c.say(parser.Road{Word: "rolling"})
	want(t, "load verdict", r.LoadVerdict, "unsettled")
	r = c.say(facts(load.Article{Weight: load.Exact(pounds(14100), false)}))
	want(t, "verdict after a fact", r.Verdict, "covered")
	r = c.say(undo())
	want(t, "verdict after undo", r.Verdict, "unsettled")
}

func TestStep_refusesWhatIsTooLong(t *testing.T) {
	long := make([]rune, parser.MaxLength+1)
	for i := range long {
		long[i] = 'ж'
	}
	_, r := Step(State{}, Event{Text: string(long)}, noon)
	want(t, "verdict", r.Verdict, "unread")
	want(t, "unread", r.Unread, []parser.Span{{Text: string(long[:quoted])}})
	want(t, "says", r.Says, []Say{Cannot{Why: "too long", Length: parser.MaxLength + 1}})
}

func TestStep_changeToldBeforeItsLoad(t *testing.T) {
	c := newChat(t)
	c.say(told(article("pickup", 6000, clause{2, g70(load.Direct)})))
	r := c.say(loose(there2("front", "left")), roller(11000, clause{4, g70(load.Direct)}))
	want(t, "verdict", r.Verdict, "short")
	want(t, "credit", credit(r), 9900)
	want(t, "name", r.Report.Articles[0].Article.Name, "roller")
}

func TestStep_oneTurnPerMessage(t *testing.T) {
	c := newChat(t)
	c.say(roller(14000, clause{4, g70(load.Direct)}))
	c.say(told(article("", 0, clause{1, g70(load.Over)})), loose(there2("rear", "left")))
	want(t, "turns", len(c.s.Turns), 2)
	r := c.say(undo())
	want(t, "credit", credit(r), 13200)
}

func options2(q *Question) []string {
	if q == nil {
		return nil
	}
	return slices.Clone(q.Options)
}
