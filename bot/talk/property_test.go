package talk

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// Anything a reader could hand over, sense or not.

func oneOf[T any](t *rapid.T, name string, of ...T) T { return rapid.SampledFrom(of).Draw(t, name) }

func often(t *rapid.T, name string) bool { return rapid.IntRange(0, 2).Draw(t, name) > 0 }

func seldom(t *rapid.T, name string) bool { return rapid.IntRange(0, 9).Draw(t, name) == 0 }

func anyPlace(t *rapid.T) load.Place {
	if !often(t, "placed") {
		return load.Place{}
	}
	return load.Place{
		End: oneOf(t, "end", "", "front", "rear", "middle"), Side: oneOf(t, "side", "", "left", "right"),
		Spread: oneOf(t, "spread", "", "", "", "corners", "ends"), On: oneOf(t, "on", "", "", "", "bucket", "joint", "blade"),
	}
}

func anyTie(t *rapid.T) load.TieDown {
	x := load.TieDown{Line: rapid.IntRange(0, 3).Draw(t, "line"), Route: oneOf(t, "route", load.Direct, load.Over, load.SameSide, "")}
	switch oneOf(t, "material", load.Chain, load.Chain, load.Webbing, load.WireRope, "") {
	case load.Chain:
		x = chain(load.Inch*oneOf(t, "size", load.Length(0), 3, 4)/8, "3/8", oneOf(t, "grade", "70", "43", "100"), x.Route)
		if seldom(t, "no grade") {
			x.Grade = load.Grade{}
		}
	case load.Webbing:
		x = strap(oneOf(t, "width", load.Length(0), 2, 4), x.Route)
	case load.WireRope:
		x.Material, x.Size = load.WireRope, load.Inch/2
	}
	x.Place = anyPlace(t)
	if seldom(t, "bound") {
		x.Tensioner = load.Tensioner{Has: oneOf(t, "has", load.Yes, load.No), Rating: oneOf(t, "rating", load.Mass(0), pounds(5400))}
	}
	x.Plural = seldom(t, "plural")
	if seldom(t, "hurt") {
		x.State.Damage = []load.Damage{anyDamage(t)}
	}
	return x
}

func anyDamage(t *rapid.T) load.Damage {
	return load.Damage{Part: oneOf(t, "part", "", "hook", "webbing"), Kind: oneOf(t, "kind", "cut", "cracked", "worn"),
		Size: oneOf(t, "cut", nil, []load.Length{load.Inch / 4}), Left: oneOf(t, "left", 0, load.Inch*3/10)}
}

func anyArticle(t *rapid.T) parser.Article {
	kind := oneOf(t, "article", "", "", "roller", "excavator", "pickup", "crate", "machine", "unknown")
	a := parser.Article{Article: load.Article{Kind: kind, Name: kind}, Replace: seldom(t, "replace")}
	if often(t, "weighed") {
		a.Weight = load.Exact(pounds(rapid.IntRange(500, 60000).Draw(t, "lb")), false)
		a.Weight.Bare = seldom(t, "bare weight")
	}
	if seldom(t, "part") {
		a.Parts = []load.Part{{Name: oneOf(t, "part", "bucket", "blade"), Tied: oneOf(t, "tied", load.Untold, load.Yes, load.No), Loose: seldom(t, "part loose"), Down: oneOf(t, "down", load.Untold, load.Yes, load.No)}}
	}
	if seldom(t, "joint") {
		a.Joint = load.Joint{Locked: oneOf(t, "locked", load.Yes, load.No)}
	}
	if seldom(t, "machine") {
		a.Machine = oneOf(t, "name", "3", "14000")
	}
	a.Bare = seldom(t, "bare")
	for i := range rapid.IntRange(0, 3).Draw(t, "lines") {
		n := rapid.IntRange(1, 4).Draw(t, "pieces")
		x := anyTie(t)
		x.Line = i
		a.Lines = append(a.Lines, parser.Line{Count: n, Told: often(t, "told"), Named: x.Material != ""})
		for range n {
			a.Ties = append(a.Ties, x)
		}
	}
	return a
}

func anyRef(t *rapid.T) parser.Ref {
	r := parser.Ref{
		Which: oneOf(t, "which", parser.It, parser.Some, parser.Last, parser.All, parser.Rest),
		Count: rapid.IntRange(0, 4).Draw(t, "n"), Lacks: seldom(t, "lacks"),
	}
	if often(t, "like") {
		r.Like = anyTie(t)
	}
	return r
}

func anyEdit(t *rapid.T) parser.Edit {
	var e parser.Edit
	switch rapid.IntRange(0, 8).Draw(t, "edit") {
	case 0, 1:
		e.Loose = true
	case 2:
		e.Tightened = true
	case 3:
		e.Replaced = true
	case 4:
		e.Damage = []load.Damage{anyDamage(t)}
	case 5:
		e.Gone = oneOf(t, "gone", "came off", "lost")
	case 6:
		e.Back = true
	case 7:
		e.Count = rapid.IntRange(1, 6).Draw(t, "count")
	default:
		e.Set = anyTie(t)
	}
	return e
}

func anyAct(t *rapid.T) parser.Act {
	switch rapid.IntRange(0, 12).Draw(t, "act") {
	case 0, 1, 2, 3:
		d := parser.Describe{Add: seldom(t, "add"), Definite: seldom(t, "definite")}
		for range rapid.IntRange(0, 2).Draw(t, "articles") {
			d.Articles = append(d.Articles, anyArticle(t))
		}
		return d
	case 4, 5, 6:
		return parser.Change{Ref: anyRef(t), Edit: anyEdit(t)}
	case 7:
		return parser.Answer{Word: oneOf(t, "word", "", "yes", "no", "unknown", "locked", "tied", "up"),
			Figure: oneOf(t, "figure", "", "3/8", "70", "14000"), Mass: oneOf(t, "mass", load.Mass(0), pounds(14000)),
			Number: oneOf(t, "number", 0, 4, 70, 14000), Sorry: seldom(t, "sorry")}
	case 8:
		g := parser.Gear{Do: oneOf(t, "do", "set", "add", "less", "show", "anchor", "machine"), Machine: "3", Anchor: pounds(6600), Article: anyArticle(t).Article}
		x := anyTie(t)
		g.Lines, g.Ties = []parser.Line{{Count: rapid.IntRange(1, 6).Draw(t, "owned"), Told: true}}, []load.TieDown{x}
		return g
	case 9:
		q := parser.Ask{Topic: oneOf(t, "topic", "how many", "compare", "what is", "what if", "need", "why", "wear", "when", "hold", "boom lock")}
		if often(t, "kind") {
			q.Ties, q.Lines = []load.TieDown{anyTie(t)}, []parser.Line{{Count: 1}}
		}
		if often(t, "changed") {
			q.Change = &parser.Change{Ref: anyRef(t), Edit: anyEdit(t)}
		}
		q.Article = anyArticle(t).Article
		return q
	case 10:
		return parser.Road{Word: oneOf(t, "road", "rolling", "stopped", "checked", "at", "delivered"), Miles: 140}
	case 11:
		return parser.House{Word: oneOf(t, "house", "help", "units", "undo", "new load", "more"), Arg: oneOf(t, "arg", "kg", "lb")}
	}
	return parser.House{Word: "undo"}
}

func anyMessage(t *rapid.T) parser.Message {
	m := parser.Message{Text: "any"}
	for range rapid.IntRange(0, 3).Draw(t, "acts") {
		m.Acts = append(m.Acts, anyAct(t))
	}
	m.Grave = seldom(t, "grave")
	return m
}

// anyState is a state that some messages led to.
func anyState(t *rapid.T) State {
	var s State
	for range rapid.IntRange(0, 6).Draw(t, "messages") {
		s, _ = stepMessage(s, Event{ID: "before"}, anyMessage(t), noon)
	}
	return s
}

func TestProperty_everyMessageHasAReply(t *testing.T) {
	verdicts := map[string]bool{"covered": true, "fix": true, "short": true, "unsettled": true, "answer": true, "done": true, "unread": true}
	rapid.Check(t, func(t *rapid.T) {
		s := anyState(t)
		msg := anyMessage(t)
		before, _ := json.Marshal(s)
		after, r := stepMessage(s, Event{ID: "now"}, msg, noon.Add(time.Hour))
		if now, _ := json.Marshal(s); !bytes.Equal(now, before) {
			t.Fatal("the state given was changed")
		}
		if !verdicts[r.Verdict] {
			t.Fatalf("verdict %q", r.Verdict)
		}
		if (msg.Grave || r.Doubt) && (r.Verdict == "covered" || r.Verdict == "fix") {
			t.Fatalf("%s with something not read", r.Verdict)
		}
		if len(after.Turns) > kept {
			t.Fatalf("%d turns kept", len(after.Turns))
		}
		l := after.load()
		seen := map[int]bool{}
		for _, a := range l.Articles {
			for _, x := range a.Ties {
				if x.ID == 0 || seen[x.ID] || x.ID > after.NextID {
					t.Fatalf("tie-down with ID %d", x.ID)
				}
				seen[x.ID] = true
			}
		}
		var back State
		data, _ := json.Marshal(after)
		if err := json.Unmarshal(data, &back); err != nil {
			t.Fatal(err)
		}
		if again, _ := json.Marshal(back); !bytes.Equal(again, data) {
			t.Fatalf("the state does not survive JSON:\n%s\n%s", data, again)
		}
	})
}

func TestProperty_sameStateAndMessageSameReply(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, msg := anyState(t), anyMessage(t)
		s1, r1 := stepMessage(s, Event{ID: "now"}, msg, noon)
		s2, r2 := stepMessage(s, Event{ID: "now"}, msg, noon)
		if diff := cmp.Diff(r1, r2); diff != "" {
			t.Fatal(diff)
		}
		a, _ := json.Marshal(s1)
		b, _ := json.Marshal(s2)
		if !bytes.Equal(a, b) {
			t.Fatalf("two states:\n%s\n%s", a, b)
		}
	})
}

func TestProperty_undoRestoresTheLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyState(t)
		after, _ := stepMessage(s, Event{ID: "now"}, anyMessage(t), noon)
		if len(after.Turns) == 0 || after.Turns[len(after.Turns)-1].Event != "now" {
			t.Skip("changed nothing, or undid something")
		}
		for _, e := range s.Turns {
			if e.Event == "now" {
				t.Fatal("event not new")
			}
		}
		if len(s.Turns)+1 != len(after.Turns) && len(s.Turns) < kept {
			t.Skip("undid something first")
		}
		undone, _ := stepMessage(after, Event{ID: "undo"}, parser.Message{Acts: []parser.Act{parser.House{Word: "undo"}}}, noon)
		if diff := cmp.Diff(s.load(), undone.load()); diff != "" {
			t.Fatalf("not as before (-before +after undo):\n%s", diff)
		}
	})
}

func TestProperty_loosingNeverImprovesTheVerdict(t *testing.T) {
	rank := map[string]int{"covered": 0, "fix": 1, "unsettled": 2, "short": 3}
	rapid.Check(t, func(t *rapid.T) {
		s := anyState(t)
		l := s.load()
		if len(l.Articles) == 0 {
			t.Skip("no load")
		}
		for _, a := range l.Articles {
			for _, x := range a.Ties {
				if x.Tensioner.Has == load.Untold && x.Material != load.Chain && x.Material != load.Webbing {
					t.Skip("what tightens one is open, and is not asked of a loose one")
				}
			}
		}
		before := rules.Evaluate(s.load(), rules.Federal).Verdict
		change := parser.Change{Ref: anyRef(t)}
		change.Ref.Lacks = false
		change.Edit.Loose = true
		_, r := stepMessage(s, Event{ID: "now"}, parser.Message{Acts: []parser.Act{change}}, noon)
		if rank[r.Verdict] < rank[string(before)] {
			t.Fatalf("%s became %s", before, r.Verdict)
		}
	})
}

// phrases are what people text, whole or in part.
var phrases = []string{
	"14000 lb roller", "excavator 40000", "pickup 3600 lb", "crate 2000 lb 6 ft long", "machine 12", "light tower",
	"4x 3/8 g70 direct", "2x 2in strap over", "1x 1/2 g80 over the bucket", "chains", "3/8 g70", "add 2x 3/8 g70 over",
	"front left is loose", "one is loose", "both rear straps are loose", "the rest are tight", "take off the strap", "replaced",
	"tightened", "one has a cracked hook", "one strap is cut 1/4", "make the last two direct", "they read 9200", "sorry 12000",
	"make that 5", "locked", "yes", "no", "dont know", "not tied", "70", "1/4", "bucket down, chained", "bucket is loose",
	"lock bar in", "joint not locked", "it weighs 15,200", "undo", "new load", "gear 6x 3/8 g70", "gear less 2 chains", "gear",
	"trailer d-rings 6600", "machine 12 is a 14000 lb roller", "units kg", "units lb", "rolling", "checked", "at 140 miles",
	"delivered", "why", "what do I need", "what if the rear right comes off", "how many 3/8 g70 for 52000", "3/8 g70?",
	"help", "forget me", "florp", "minus 14000", "not", "front", "corners", "\n", ",", ".", "?", "and",
}

// harmful are those after which no load is covered.
var harmful = map[string]bool{
	"front left is loose": true, "one is loose": true, "both rear straps are loose": true,
	"one has a cracked hook": true, "bucket is loose": true, "joint not locked": true, "not tied": true,
}

func TestProperty_talkInPlainWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s State
		now := noon
		for range rapid.IntRange(1, 6).Draw(t, "messages") {
			said := rapid.SliceOfN(rapid.SampledFrom(phrases), 1, 4).Draw(t, "said")
			var r Reply
			s, r = Step(s, Event{ID: "e", Text: strings.Join(said, " ")}, now)
			now = now.Add(time.Hour)
			if r.Verdict == "covered" && (r.Grave || r.Doubt || r.Report == nil || r.Report.Verdict != rules.VerdictCovered) {
				t.Fatalf("%q: covered", said)
			}
			if len(said) == 1 && harmful[said[0]] && r.Verdict == "covered" {
				t.Fatalf("%q: covered", said)
			}
			if r.Verdict == "unread" && len(r.Unread) == 0 && strings.TrimSpace(r.Text) != "" {
				t.Fatalf("%q: unread, and nothing named", said)
			}
			if len(r.Says) == 0 && r.Report == nil {
				t.Fatalf("%q: nothing said", said)
			}
		}
	})
}
