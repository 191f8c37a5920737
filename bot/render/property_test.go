package render

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"halfweight/bot/talk"
	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
	"pgregory.net/rapid"
)

func pick[T any](t *rapid.T, name string, from ...T) T {
	return rapid.SampledFrom(from).Draw(t, name)
}

// someTie draws a tie-down with what may be told of one.
func someTie(t *rapid.T, parts []load.Part) load.TieDown {
	sizes := map[load.Length]string{load.Inch * 5 / 16: "5/16", in38: "3/8", in12: "1/2", load.Inch * 7 / 16: "7/16", 10 * load.Millimetre: "10 mm", 0: "", 2 * load.Inch: "2", 4 * load.Inch: "4", load.Inch: "1"}
	tie := load.TieDown{Material: pick(t, "material", load.Chain, load.Chain, load.Chain, load.Webbing, load.WireRope, load.Cordage, load.SteelStrap, "")}
	switch tie.Material {
	case load.Webbing:
		tie.Size = pick(t, "width", 0, load.Inch, 2*load.Inch, 4*load.Inch)
	default:
		tie.Size = pick(t, "size", 0, load.Inch*5/16, in38, in12, load.Inch*7/16, 10*load.Millimetre)
	}
	tie.SizeWord = sizes[tie.Size]
	tie.Grade.Reading = pick(t, "reading", load.NotRead, load.Read, load.Read, load.Read, load.NoMarks, load.Alloy)
	if tie.Grade.Reading == load.Read {
		tie.Grade.Value = pick(t, "grade", "30", "70", "80", "100", "90")
	}
	tie.Route = pick(t, "route", load.Direct, load.Direct, load.Over, load.SameSide, load.Lengthwise, "")
	tie.Place = pick(t, "place", load.Place{}, load.Place{}, load.Place{End: "front"}, load.Place{End: "rear", Side: "left"}, load.Place{Spread: "corners"}, load.Place{Spread: "ends"}, load.Place{End: "middle"}, load.Place{On: "joint"})
	if len(parts) > 0 && rapid.Bool().Draw(t, "on a part") {
		tie.Place = load.Place{On: parts[0].Name}
	}
	tie.Tensioner = pick(t, "tensioner", load.Tensioner{}, load.Tensioner{}, load.Tensioner{Has: load.No}, load.Tensioner{Has: load.Yes, Kind: "ratchet binder"}, load.Tensioner{Has: load.Yes, Rating: 5400 * lb}, load.Tensioner{Has: load.Yes, Label: "5/16-3/8"})
	tie.Anchor = pick(t, "anchor", 0, 0, 0, 4000*lb)
	tie.Mark = pick(t, "mark", 0, 0, 0, 5000*lb)
	tie.State = pick(t, "state", load.State{}, load.State{}, load.State{}, load.State{}, load.State{Tight: load.No}, load.State{Gone: "came off"}, load.State{NoGuard: true},
		load.State{Damage: []load.Damage{{Kind: "cut", Size: []load.Length{load.Inch / 4, load.Inch / 8}}}},
		load.State{Damage: []load.Damage{{Kind: "cut"}}}, load.State{Damage: []load.Damage{{Kind: "worn", Left: load.Inch * 31 / 100}}},
		load.State{Damage: []load.Damage{{Kind: "cracked", Part: "hook"}}})
	tie.Plural = pick(t, "plural", false, false, false, true)
	tie.Shared = pick(t, "shared", false, false, false, true)
	return tie
}

func someArticle(t *rapid.T, id int) load.Article {
	kinds := tables.Kinds()
	kind := rapid.SampledFrom(kinds).Draw(t, "kind").Key
	a := load.Article{ID: id, Kind: kind, Name: kind}
	pounds := load.Mass(rapid.IntRange(400, 120000).Draw(t, "pounds")) * lb
	a.Weight = pick(t, "weight", load.Weight{}, load.Exact(pounds, false), load.Exact(pounds, true), load.Weight{Told: pounds, Low: pounds, High: pounds * 11 / 10, Ton: true})
	for _, name := range pick(t, "parts", nil, []string{"bucket"}, []string{"blade", "ripper"}, []string{"hoe", "bucket"}, []string{"boom"}) {
		a.Parts = append(a.Parts, load.Part{
			Name: name, Down: pick(t, "down", load.Untold, load.Yes, load.No), Tied: pick(t, "tied", load.Untold, load.Yes, load.No),
			Locks:      pick(t, "locks", nil, []string{"boom lock"}, []string{"boom lock", "swing pin"}),
			Hydraulics: pick(t, "hydraulics", false, false, true), Loose: pick(t, "loose", false, false, true), Prop: pick(t, "prop", false, true), Off: pick(t, "off", false, false, true),
		})
	}
	a.Joint = pick(t, "joint", load.Joint{}, load.Joint{Locked: load.Yes}, load.Joint{Locked: load.Yes, How: load.SteeringLock}, load.Joint{Locked: load.No}, load.Joint{Has: true}, load.Joint{How: load.SteeringWheel})
	a.Articulated = pick(t, "articulated", load.Untold, load.Yes, load.No)
	a.OnWheels = pick(t, "wheels", load.Untold, load.Yes, load.No)
	a.Length = pick(t, "length", 0, 4*load.Foot, 18*load.Foot)
	a.Blocked = pick(t, "blocked", load.Untold, load.Yes, load.No)
	a.Still = pick(t, "still", false, true)
	if tables.Cargo(kind) != (tables.CargoKind{}) {
		a.Cargo = load.Cargo{
			Pieces: pick(t, "pieces of it", 0, 0, 1, 3), Lies: pick(t, "lies", "", load.OnEnd, load.Across, load.Along),
			Shape: pick(t, "shape", "", load.Cubic, load.Unstable), Stacks: pick(t, "stacks", 0, 1, 2), Tiers: pick(t, "tiers", 0, 1, 2),
			Walls: pick(t, "walls", 0, load.NoWalls, 2, 4), Locked: pick(t, "locks in", load.Untold, load.Untold, load.Yes, load.No),
			Empty: pick(t, "empty", load.Untold, load.Yes, load.No), Chocked: pick(t, "chocked", load.Untold, load.Yes, load.No),
			Checked: pick(t, "checked", load.Untold, load.Yes, load.No), Touching: pick(t, "touching", load.Untold, load.Yes, load.No),
			Special: pick(t, "special", load.Untold, load.Yes, load.No), Bore: pick(t, "bore", 0, 36*load.Inch),
		}
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "groups") {
		n := rapid.IntRange(1, 6).Draw(t, "pieces")
		a.Ties = append(a.Ties, ties(100*id+10*i, n, someTie(t, a.Parts))...)
	}
	a.Bare = len(a.Ties) == 0 && rapid.Bool().Draw(t, "bare")
	return a
}

// someReply draws a load and asks the first thing open, as talk does.
func someReply(t *rapid.T) talk.Reply {
	var articles []load.Article
	for id := range rapid.IntRange(1, 3).Draw(t, "articles") {
		articles = append(articles, someArticle(t, id+1))
	}
	r := judged(articles...)
	r.Units = pick(t, "units", "lb", "kg")
	r.Unread = pick(t, "unread", nil, nil, []parser.Span{{Text: "safe {x} florp"}})
	r.Grave = r.Unread != nil && rapid.Bool().Draw(t, "grave")
	r.Doubt = pick(t, "doubt", false, false, true)
	if (r.Grave || r.Doubt) && r.Verdict != "short" {
		r.Verdict, r.LoadVerdict = "unsettled", "unsettled"
	}
	for i := range r.Report.Articles {
		for _, f := range r.Report.Articles[i].Findings {
			if f.Ask != "" && r.Ask == nil {
				r.Ask = &talk.Question{Article: r.Report.Articles[i].Article.ID, Key: f.Ask, Subject: f.Subject, Part: f.Part, Options: []string{"yes", "no", "unknown"}}
			}
		}
	}
	return r
}

var quotes = regexp.MustCompile(`"[^"]*"`)

var heads = map[string][]string{
	"covered":   {"ADDS UP: ", "ADDS UP, ONLY JUST: ", "BOTH ADD UP", "ALL 3 ADD UP"},
	"fix":       {"ADDS UP WITHOUT IT", "ADDS UP, BUT MEND IT FIRST", "ADDS UP, ONLY JUST, BUT MEND IT FIRST"},
	"short":     {"SHORT by ", "SHORT: "},
	"unsettled": {"CAN'T CALL IT YET: "},
}

func TestText_everyLoadKeepsToItsBudget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someReply(t)
		text := Text(r)
		fail := func(format string, args ...any) {
			t.Fatalf(format+"\n%s", append(args, text)...)
		}
		// the verdict is spoken first, and only that one
		begins := false
		for _, head := range heads[r.Verdict] {
			begins = begins || strings.HasPrefix(text, head)
		}
		if !begins {
			fail("%s begins otherwise", r.Verdict)
		}
		plain := quotes.ReplaceAllString(text, "q")
		if hit := never.FindString(plain); hit != "" {
			fail("says %q", hit)
		}
		if !strings.HasSuffix(text, english.Laws["federal"].Caution) {
			fail("ends without the caution")
		}
		for _, odd := range []string{"{", "}", "  ", " .", " ,", "..", ": .", ", ,", "\n\n", ";;", "Go look: .", ": ?", " ?", "( ", " )", "-", "%"} {
			if strings.Contains(strings.NewReplacer("go-ahead", "x", "tie-down", "x", "oll-off", "x", "hold-down", "x").Replace(plain), odd) {
				fail("holds %q", odd)
			}
		}
		lines := strings.Split(text, "\n")
		for _, line := range lines {
			if utf8.RuneCountInString(line) > width {
				fail("a line of %d characters: %s", utf8.RuneCountInString(line), line)
			}
		}
		if most := 8 + 9*len(r.Report.Articles) + asides(r.Report)*4; len(lines) > most {
			fail("%d lines, more than %d", len(lines), most)
		}
		// every reason, code and remark that came up has words
		p := blank(r.Units)
		for i := range r.Report.Articles {
			c := &r.Report.Articles[i]
			for j := range c.Findings {
				f := &c.Findings[j]
				w := p.findingWords(f)
				if w.Say == "" {
					fail("no words for %s/%s", f.Rule, f.Reason)
				}
				if f.Outcome == rules.Short && w.Head == "" && f.Rule != "aggregate" && f.Reason != "nothing on it" {
					fail("no head for %s/%s", f.Rule, f.Reason)
				}
				if s := p.finding(c, f); s == "" || strings.Contains(s, "  ") {
					fail("%s/%s says %q", f.Rule, f.Reason, s)
				}
				if f.Ask != "" && english.Questions[f.Ask].Ask == "" {
					fail("no question %q", f.Ask)
				}
			}
		}
		// each unread word is quoted
		for _, s := range r.Unread {
			if !strings.Contains(text, `"`+s.Text+`"`) {
				fail("%q is not quoted", s.Text)
			}
		}
		if data := Data(r); !json.Valid(data) || strings.Contains(string(data), "\n") {
			fail("data is not one line of JSON: %s", data)
		}
	})
}

func asides(r *rules.Report) int {
	n := 0
	for i := range r.Articles {
		n += len(r.Articles[i].SetAside)
	}
	return n
}

// What is needed is never printed less than it is, what there is never more.
func TestMeasure_neverFlatters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := load.Mass(rapid.Int64Range(0, 2_000_000*int64(lb)).Draw(t, "mass"))
		u := measureIn(pick(t, "unit", "lb", "kg"))
		if up := load.Mass(figure64(t, u.up(m))) * u.size; up < m || up-m >= u.size {
			t.Fatalf("up(%d) is %s", m, u.up(m))
		}
		if down := load.Mass(figure64(t, u.down(m))) * u.size; down > m || m-down >= u.size {
			t.Fatalf("down(%d) is %s", m, u.down(m))
		}
	})
}

func figure64(t *rapid.T, s string) int64 {
	var n int64
	if err := json.Unmarshal([]byte(strings.ReplaceAll(s, ",", "")), &n); err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return n
}

// Each finding of a count is explained by its section and by how that is known,
// and every check by eye of the article's own section is listed.
func TestText_whyNamesTheSectionAndHowItIsKnown(t *testing.T) {
	const known = `, (read in|from memory|worked out|trade practice)`
	rapid.Check(t, func(t *rapid.T) {
		c := talk.Judge(load.Load{Articles: []load.Article{someArticle(t, 1)}}, rules.Federal)
		text := strings.Join(strings.Fields(Text(talk.Reply{Verdict: "answer", Says: []talk.Say{talk.Why{Report: &c}}})), " ")
		for _, f := range c.Articles[0].Findings {
			if f.Rule == "weight" || f.Rule == "aggregate" {
				continue
			}
			if !regexp.MustCompile(regexp.QuoteMeta("("+f.Cite) + known).MatchString(text) {
				t.Fatalf("%s is cited as %s: %s", f.Rule, f.Cite, text)
			}
			if f.Rule != "eye" {
				continue
			}
			for _, check := range rules.Checks(c.Articles[0].Article, f.Part) {
				if !strings.Contains(text, check.Text+" ("+check.Cite) {
					t.Fatalf("%q is not listed: %s", check.Text, text)
				}
			}
		}
	})
}
