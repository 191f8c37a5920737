// Package rules judges a load: it knows the law, and no chat, file or clock.
// Start with Evaluate. Each rule is one file named by its id; figures stand in
// rules/tables with their sources.
package rules

import (
	"math"

	"halfweight/rules/load"
)

// Unbounded is the Most of an article whose untold facts set no upper end: a
// tag that may say anything, a plural whose number was not told.
const Unbounded = load.Mass(math.MaxInt64)

// Evaluate judges each article of l on its own tie-downs by the rules of set.
// It changes nothing and keeps nothing but pointers to l's articles.
func Evaluate(l load.Load, set Set) Report {
	r := Report{Verdict: VerdictUnsettled}
	if len(l.Articles) == 0 {
		return r
	}
	r.Articles = make([]Count, len(l.Articles))
	r.Verdict = VerdictCovered
	for i := range l.Articles {
		r.Articles[i] = judge(&l.Articles[i], set)
		if worse(r.Articles[i].Verdict, r.Verdict) {
			r.Verdict = r.Articles[i].Verdict
		}
	}
	return r
}

// worse says whether a stands worse than b.
func worse(a, b Verdict) bool { return a.rank() > b.rank() }

func (v Verdict) rank() int {
	switch v {
	case VerdictCovered:
		return 0
	case VerdictFix:
		return 1
	case VerdictUnsettled:
		return 2
	}
	return 3
}

// Outcome is how a requirement ends. The zero value is Untold: a check that
// forgets to decide never reads as met.
type Outcome uint8

// The three outcomes.
const (
	Untold Outcome = iota
	Met
	Short
)

// Verdict is how a load stands.
type Verdict string

// The verdicts of a load, worst first: Short, Unsettled, Fix, Covered.
const (
	VerdictShort     Verdict = "short"
	VerdictUnsettled Verdict = "unsettled"
	VerdictFix       Verdict = "fix"
	VerdictCovered   Verdict = "covered"
)

// Report is a load judged.
type Report struct {
	Verdict  Verdict // the worst of the articles'
	Articles []Count
}

// Count is one article judged, with what the reply needs to say about it.
type Count struct {
	Article *load.Article // as judged; not changed
	Verdict Verdict
	Heavy   load.Tri // judged as a machine or vehicle of 10,000 lb or more

	NeedLow, NeedHigh load.Mass // half of the weight's ends, of logs the share their section asks; both 0 when untold
	Need              load.Mass // the same of the weight told; 0 when untold
	Credit            load.Mass // counted: the least of what is told
	Most              load.Mass // the most that what is untold allows
	Weaker            load.Mass // Credit were the binders not told the commonest weaker ones; equals Credit where that changes nothing
	GoodUpTo          load.Mass // the heaviest weight Credit covers: twice Credit, of logs lengthwise six times
	NoSum             bool      // held by what is no tie-down (locks, walls): no sum is asked

	Lines    []Line    // tie-downs that count, equal pieces together
	SetAside []Aside   // those that do not
	Findings []Finding // every rule that applies, met ones too, in the order of the set
	Assumed  []Assumption
	Remarks  []Remark
	Sinks    []Line // tie-downs whose single loss would leave a covered article not covered
	Mends    []Mend // what would mend it, best first: rules/plan works it out (plan.Mend); Evaluate leaves it empty
	Demands  []Demand
}

// Line is equal tie-downs in print.
type Line struct {
	Count     int
	IDs       []int
	Tie       load.TieDown // one of them; ID and Line are the first one's
	WLL       load.Mass    // of one
	LimitedBy string       // "chain", "webbing", "binder", "ratchet", "hook", "anchor", ... the part that gives the WLL
	Credit    load.Mass    // of all of them together
	Usable    bool         // counts toward the weight: has a credit
}

// Aside is tie-downs set aside: they count for nothing anywhere.
type Aside struct {
	Line
	Why    string // "loose", "cracked hook", "cut", "no binder", "came off", ...
	Fix    bool   // still on: mend it or take it off first
	Counts bool   // counts all the same, but is to be mended (hurt within the published limit; no edge guard)
	Settle string // the measure that would settle it ("cut size"); "" when nothing would
	Cite   string // "49 CFR 393.104(f)"
}

// Finding is one requirement and how it ends. Reason and the figures are for
// the renderer; no rule writes prose.
type Finding struct {
	Rule    string // id as in the specification: "weight", "aggregate", "corners", ...
	Subject string // the accessory's word, or ""
	Part    string // the accessory's key in the kinds table, or ""
	Outcome Outcome
	Cite    string
	Reason  string // key of the reason, one of those listed in the rule's file
	Have    int    // tie-downs counted, where the rule counts
	Want    int    // tie-downs asked for
	Ask     string // key of the question that would settle it; "" when settled
}

// Assumption is something taken for granted that a figure or finding rests on.
type Assumption struct {
	Code string
	IDs  []int  // tie-downs it is about, where it is about some
	Part string // the accessory it is about, where it is about one
}

// Remark is advice, never a finding.
type Remark struct {
	Code string
	IDs  []int
	Part string
}

// Mend is one step to mend a short article: all of them together do it, save
// where one is Alone or Or.
type Mend struct {
	Count  int
	Tie    load.TieDown // kind, route and place of what to put on
	Hand   int          // of gear: how many of it are to hand; 0 where none was told
	Closes []string     // rule ids (with ":subject" for an accessory) that it closes
	Binder load.Mass    // least binder rating it takes, where a step up in chain needs it; else 0
	Do     string       // a mend that is not a tie-down, one of the Do constants; "" otherwise
	IDs    []int        // with Do "tighten" and "put a binder on": which
	Part   string       // with Do "lower it": the accessory's key
	Alone  bool         // does it all by itself: what follows is instead of it
	Or     bool         // instead of the one before it, not with it
}

// What a mend can be that is not a tie-down (Mend.Do).
const (
	DoTighten = "tighten"
	DoBinder  = "put a binder on"
	DoLower   = "lower it"
	DoLock    = "lock the joint"
)

// What a mend goes by of the reasons that a count gives (Aside.Why, Finding.Reason).
const (
	WhyLoose    = whyLoose
	WhyNoBinder = whyNoBinder
	ReasonUp    = reasonUp
)

// Demand is what a rule asks of the tie-downs of an article, and what those that
// are on give toward it: for the planner, which solves it; the rules themselves
// only verify. Zero fields ask for nothing.
type Demand struct {
	Rule    string
	Subject string

	Credit      load.Mass // at least this credit in all
	Front, Rear int       // at least so many near its front and its rear that hold the article itself,
	Ends        int       // and so many of these in all
	Number      int       // at least so many in all, wherever they hold
	On          string    // at least one on this part, or across the joint
	Lower       []string  // parts that must be lowered before a tie-down on On holds them
	Least       load.Mass // each tie-down that is to meet it rated at least this

	Have Have
}

// Have is what the tie-downs that count give toward a demand.
type Have struct {
	Credit  load.Mass // were the binders not told the commonest weaker ones
	Largest load.Mass // of it, the most that one gives
	Front   int
	Rear    int
	Free    int  // near the front or the rear, wherever one lacks
	Number  int  // in all; of a demand on a part, those on it
	Told    bool // the part is told to be tied, but by what is not told
}

// Code is the outcome's name in code, data and files: "met", "short", "untold".
func (o Outcome) String() string {
	switch o {
	case Met:
		return "met"
	case Short:
		return "short"
	}
	return "untold"
}
