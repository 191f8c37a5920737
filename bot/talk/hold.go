package talk

import (
	"cmp"
	"slices"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/hold"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Hold answers by mechanics how many g the tie-downs of an article hold. It says
// nothing of the count, and nothing in the count rests on it.
type Hold struct {
	Count *rules.Count       // of the article: how it stands, its name and weight
	Ways  [4]HoldWay         // forward, rearward, left, right
	Named tables.Performance // what it is compared with
	Order []int              // indices of Ways, weakest first; of equals the one that is furthest below what is named

	Friction float64
	From     string         // "told", "table", or "" where nothing was told to look it up by
	Rubbing  tables.Rubbing // with "table" what it was looked up by
	Doubt    bool           // words were not read that may be about the deck: taken as slick
	High     bool           // a friction told so high that it is doubted
	Refused  float64        // a friction told that is not taken; 0 none
	Braked   float64        // share of the weight that rubs fore and aft

	Angles  string   // "told", "range" (the worst of it), or "partly"
	Odd     []string // angles told that are none, as sent
	Flat    bool     // an angle to the deck was told that is too flat or too steep to be believed by itself
	Corners bool     // some were taken one to a corner, or to a side
	Direct  bool     // some pull
	Over    bool     // some press, over the top
	Left    int      // tie-downs that hold less here than they may: place or route not told, no equal across from them
	Aside   int      // set aside: hold nothing
	Blank   int      // with no rating, since size or grade has no figure: hold nothing
	Program bool     // pulls that do not mirror each other were worked out as a whole
	Height  bool     // the height of the centre of gravity was told
	Width   bool     // and the width of the base
	Length  bool     // and its length
	Explain bool     // say how this ranks direct and over against the count: the first time in a chat
	Why     bool     // explain the figures
	More    bool     // another article was answered before it: what holds for both was said there
}

// HoldWay is what is held in one direction, in g and rounded down to 0.05.
type HoldWay struct {
	G         float64
	Of        float64 // what Named names
	Tips      bool    // it tips before it slides
	TipKnown  bool    // tipping was worked out
	Rubs      float64 // of G: what friction holds alone, not rounded
	Direct    float64 // what those that pull add
	OverPress float64 // what those over the top add
}

func (Hold) say() {}

// hold answers a question of hold about every article of the load in hand.
func (t *turn) hold(q *parser.Hold, why bool) {
	if len(t.load.Articles) == 0 {
		t.cannot("no load")
		return
	}
	if t.held != nil && !why {
		q = after(t.held, q)
	}
	report := rules.Evaluate(t.load, t.set)
	answered, named := false, tables.MechanicsFigures().Federal
	if t.s.Rules == rules.Canada.Name {
		named = tables.MechanicsFigures().Canada
	}
	for i := range report.Articles {
		h, ok := holdOf(&report.Articles[i], q, named)
		if !ok {
			t.say(Cannot{Why: "hold no weight", Words: report.Articles[i].Article.Name})
			continue
		}
		h.Why = why
		h.Explain, h.More = !why && !t.s.Ranked && !answered, answered
		t.say(h)
		answered = true
	}
	if answered {
		t.s.Ranked = true
		told := *q
		t.s.Held = &told
	}
}

// holdsLater says whether the i-th question of the message, one of hold, is followed
// by another: that one is answered, with what this one tells.
func (t *turn) holdsLater(i int) bool {
	if !slices.ContainsFunc(t.asks[i+1:], func(q parser.Ask) bool { return q.Topic == "hold" }) {
		return false
	}
	q := &t.asks[i].Hold
	if t.held != nil {
		q = after(t.held, q)
	}
	t.held = q
	return true
}

// after is a question of hold that follows another: what it does not tell stands as
// told before. A friction told as a figure, and words not read, stand until what it
// stands on is told.
func after(before, now *parser.Hold) *parser.Hold {
	h := *now
	if h.Contact == "" && h.Deck == "" && h.Surface == "" && h.Friction == 0 && !h.Doubt {
		h.Friction, h.Doubt = before.Friction, before.Doubt
	}
	h.Contact, h.Deck, h.Surface = cmp.Or(h.Contact, before.Contact), cmp.Or(h.Deck, before.Deck), cmp.Or(h.Surface, before.Surface)
	h.Tracks = h.Tracks || before.Tracks && now.Contact == ""
	if len(h.Angles) == 0 && len(h.Odd) == 0 {
		h.Angles = before.Angles
	}
	h.Height, h.Width, h.Length = cmp.Or(h.Height, before.Height), cmp.Or(h.Width, before.Width), cmp.Or(h.Length, before.Length)
	return &h
}

// holdOf is the answer for one article; ok is false where its weight is not told.
// A weight told loosely is taken at its most.
func holdOf(c *rules.Count, q *parser.Hold, named tables.Performance) (h Hold, ok bool) {
	if !c.Article.Weight.Known() {
		return Hold{}, false
	}
	m := tables.MechanicsFigures()
	h = Hold{Count: c, Named: named, Odd: q.Odd, Height: q.Height > 0, Width: q.Width > 0, Length: q.Length > 0}
	h.rub(q, m)
	h.Braked = braked(c.Article, q, m)
	set := hold.Load{
		Weight: c.Article.Weight.High.Pounds(), Friction: h.Friction, Braked: h.Braked, Keeps: m.Keeps,
		Height: q.Height.Inches(), Width: q.Width.Inches(), Length: q.Length.Inches(),
	}
	set.Ties = h.ties(c, q, m)
	a, ok := hold.Work(set)
	if !ok {
		return Hold{}, false
	}
	h.Corners, h.Left, h.Program = a.Corners, a.Left, a.Program
	h.ways(&set, &a)
	return h, true
}

// rub settles the friction: the figure told, else the table's for what it stands
// on and the deck. Words that were not read may be about either.
func (h *Hold) rub(q *parser.Hold, m *tables.Mechanics) {
	h.Rubbing = tables.Rubbing{Contact: q.Contact, Deck: q.Deck, State: q.Surface}
	if told := float64(q.Friction) / float64(load.One); told > m.FrictionMost {
		h.Refused = told
	} else if told > 0 {
		h.Friction, h.From, h.High = told, "told", told > m.FrictionHigh
		return
	}
	if h.Doubt = q.Doubt; h.Doubt {
		h.Rubbing.State = "slick"
	}
	h.Friction = tables.Friction(h.Rubbing)
	if h.Rubbing != (tables.Rubbing{}) {
		h.From = "table"
	}
}

// braked is the share of the weight that rubs fore and aft: all of it for what
// stands on tracks or flat, the braked part for what stands on wheels or drums, or
// may.
func braked(a *load.Article, q *parser.Hold, m *tables.Mechanics) float64 {
	kind, ok := tables.Kind(a.Kind)
	if q.Tracks || ok && kind.Class == tables.ClassCargo || a.OnWheels == load.No {
		return 1
	}
	return m.Braked
}

// ties are the article's tie-downs in plain figures: those that the count sets
// aside have no rating.
func (h *Hold) ties(c *rules.Count, q *parser.Hold, m *tables.Mechanics) []hold.Tie {
	rated := map[int]load.Mass{}
	for i := range c.Lines {
		for _, id := range c.Lines[i].IDs {
			rated[id] = c.Lines[i].WLL
		}
	}
	told, untold := 0, 0
	var ties []hold.Tie
	for i := range c.Article.Ties {
		x := &c.Article.Ties[i]
		tie := hold.Tie{WLL: rated[x.ID].Pounds(), Line: x.Line, Route: x.Route, Place: x.Place}
		var up, out bool
		tie.Up, tie.Out, up, out = h.angles(x.Material, q, m)
		if tie.WLL > 0 {
			if up && (out || x.Route == load.Over) {
				told++
			} else {
				untold++
				if up || out {
					told++
				}
			}
			h.Over = h.Over || x.Route == load.Over && x.Place.On == ""
			h.Direct = h.Direct || x.Route == load.Direct || x.Route == load.SameSide || x.Route == ""
		} else if _, counts := rated[x.ID]; counts {
			h.Blank++
		} else if x.State.Gone == "" {
			h.Aside++
		}
		ties = append(ties, tie)
	}
	switch {
	case untold == 0 && told > 0:
		h.Angles = "told"
	case told > 0:
		h.Angles = "partly"
	default:
		h.Angles = "range"
	}
	return ties
}

// angles are a tie-down's: those told of its material, else of all, else the range
// whose worst is taken. One too flat or too steep to be believed stands beside the
// range: the worst of both is taken.
func (h *Hold) angles(of load.Material, q *parser.Hold, m *tables.Mechanics) (up, out hold.Range, upTold, outTold bool) {
	all := hold.Range{Low: m.AngleLow, High: m.AngleHigh}
	up, out = all, all
	for _, material := range []load.Material{"", of} {
		at := slices.IndexFunc(q.Angles, func(a parser.Angle) bool { return a.Material == material })
		if at < 0 {
			continue
		}
		a := &q.Angles[at]
		if told := float64(a.Up) / float64(load.One); a.Up > 0 {
			up, upTold = hold.Range{Low: told, High: told}, true
			if told < m.AngleFlat || told > m.AngleSteep {
				h.Flat, upTold = true, false
				up = hold.Range{Low: min(told, all.Low), High: max(told, all.High)}
			}
		}
		if a.OutTold {
			told := float64(a.Out) / float64(load.One)
			out, outTold = hold.Range{Low: told, High: told}, true
		}
	}
	return up, out, upTold, outTold
}

// ways lays out the answer by direction, weakest first, and what each part of it
// holds by itself.
func (h *Hold) ways(set *hold.Load, a *hold.Answer) {
	alone, over := *set, *set
	alone.Ties, over.Ties = nil, nil
	for _, t := range set.Ties {
		if t.Route == load.Over {
			over.Ties = append(over.Ties, t)
		}
	}
	rubs, _ := hold.Work(alone)
	presses, _ := hold.Work(over)
	of := [4]float64{h.Named.Forward, h.Named.Rearward, h.Named.Sideways, h.Named.Sideways}
	for _, d := range hold.Directions {
		h.Ways[d] = HoldWay{
			G: hold.Down(a.Holds[d]), Of: of[d], TipKnown: a.Tipping[d], Tips: a.Tipping[d] && a.Tips[d] < a.Slides[d],
			Rubs: rubs.Slides[d], OverPress: presses.Slides[d] - rubs.Slides[d], Direct: a.Slides[d] - presses.Slides[d],
		}
		h.Order = append(h.Order, int(d))
	}
	slices.SortStableFunc(h.Order, func(x, y int) int {
		a, b := &h.Ways[x], &h.Ways[y]
		return cmp.Or(cmp.Compare(a.G, b.G), cmp.Compare(a.G-a.Of, b.G-b.Of))
	})
}
