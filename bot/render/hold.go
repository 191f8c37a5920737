package render

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/bot/talk"
	"halfweight/rules/tables"
)

// held is a mechanics answer in the data: g rounded down to 0.05.
type held struct {
	Forward  float64   `json:"forward_g"`
	Rearward float64   `json:"rearward_g"`
	Left     float64   `json:"left_g"`
	Right    float64   `json:"right_g"`
	Friction float64   `json:"friction"`
	Angles   string    `json:"angles"`
	Tips     *[]string `json:"tips_first"` // directions in which it tips before it slides; null where tipping was not worked out
}

// holdWords say what is held by mechanics.
type holdWords struct {
	Head, Way, Tips      string
	Ways                 [4]string
	Sides                string            // left and right alike
	Friction             map[string]string // by how it was settled
	Contact, Deck, State map[string]string
	On, Either           string
	Rolls                string
	Angles               map[string]string
	Flat, Odd, Doubt     string
	High, Refused        string
	Corners, Away        string
	Middle               string // where its weight is taken
	Over, Left, Aside    string
	Program, Blank       string
	NoHeight, NoBase     string
	NoSides, NoEnds      string
	Hooks                string
	Of                   string
	Count                map[string]string // how the count stands, by verdict
	Caution, Explain     string
	Closer               string
	Brief                briefHoldWords // in little room
	Tell                 closerWords

	Rubs, Pulls, Presses, Upper, Own string // why
}

// closerWords are what can be told for a closer figure.
type closerWords struct{ Rub, Angles, Height, Width, Length string }

// briefHoldWords are the same in little room.
type briefHoldWords struct {
	Head, Way, Tips string
	Ways            [4]string
	Sides           string
	Friction        map[string]string // by how it was settled
	Rolls           string
	Angles          map[string]string
	Others, Caution string
	InMore          string // beside a count
}

// hold tells a mechanics answer: the weakest direction first, what it is compared
// with, and what it rests on.
func (p *page) hold(h talk.Hold) {
	w := &p.w.Hold
	p.turn()
	p.say(w.Head, "what", p.what(h.Count), "cite", h.Named.Cite)
	p.say(strings.Join(p.holdWays(h, w.Way, w.Tips, w.Sides, w.Ways), "; ") + ".")
	p.turn()
	if h.Why {
		p.holdWhy(h)
	}
	p.holdFriction(h)
	p.holdTies(h)
	p.say(w.Middle)
	if h.More {
		p.turn()
		p.line(w.Count[string(h.Count.Verdict)])
		return
	}
	p.holdTips(h)
	p.turn()
	if h.Why || h.Explain {
		p.say(w.Explain)
	}
	if h.Why {
		p.line(w.Upper)
	}
	p.say(w.Count[string(h.Count.Verdict)])
	p.say(w.Caution)
	p.turn()
	if !h.Why {
		p.closer(h)
	}
}

// holdWays are the directions in print, weakest first; those to both sides
// together where they are alike.
func (p *page) holdWays(h talk.Hold, phrase, mayTip, sides string, names [4]string) (list []string) {
	const left, right = 2, 3
	l, r := &h.Ways[left], &h.Ways[right]
	alike := l.G == r.G && l.Of == r.Of && l.Tips == r.Tips
	for _, d := range h.Order {
		way := &h.Ways[d]
		name := names[d]
		if alike && d == left {
			name = sides
		} else if alike && d == right {
			continue
		}
		said := filled(phrase, "way", name, "g", twentieths(way.G), "of", plainly(way.Of))
		if way.Tips {
			said += mayTip
		}
		list = append(list, said)
	}
	return list
}

// twentieths is a figure in hundredths.
func twentieths(g float64) string { return strconv.FormatFloat(g, 'f', 2, 64) }

// plainly is a figure without needless noughts.
func plainly(g float64) string { return strconv.FormatFloat(g, 'f', -1, 64) }

// withoutHold is what there is to say beside mechanics answers.
func withoutHold(says []talk.Say) []talk.Say {
	return slices.DeleteFunc(slices.Clone(says), func(s talk.Say) bool { _, ok := s.(talk.Hold); return ok })
}

// holdSentences are those of a mechanics answer that must fit in little room: of the
// article that holds least the figures, the friction, the angles and the caution are
// never left out.
func (p *page) holdSentences(r talk.Reply) (list []sentence) {
	w := &p.w.Hold
	var least *talk.Hold
	more := 0
	for _, s := range r.Says {
		if h, ok := s.(talk.Hold); ok {
			if more++; least == nil || h.Ways[h.Order[0]].G < least.Ways[least.Order[0]].G {
				least = &h
			}
		}
	}
	b, m := &w.Brief, tables.MechanicsFigures()
	add := func(rank int, phrase string, args ...string) {
		if phrase != "" {
			list = append(list, sentence{text: capital(filled(phrase, args...)), rank: rank})
		}
	}
	add(must, b.Head, "what", p.what(least.Count), "cite", least.Named.Cite, "ways", strings.Join(p.holdWays(*least, b.Way, b.Tips, b.Sides, b.Ways), ", "))
	if more > 1 {
		add(should, b.Others, "n", strconv.Itoa(more-1))
	}
	add(must, b.Friction[least.From], "mu", twentieths(least.Friction))
	if least.Braked < 1 {
		add(must, b.Rolls, "share", strconv.Itoa(int(least.Braked*100)))
	}
	if least.Direct || least.Over {
		add(must, b.Angles[least.Angles], "low", plainly(m.AngleLow), "high", plainly(m.AngleHigh))
	}
	add(should, p.apart(func(p *page) { p.notRead(r) }))
	for i, s := range split(p.apart(func(p *page) { p.holdAngles(*least) })) {
		if i > 0 { // the first is said above
			add(count, s)
		}
	}
	add(count, p.apart(func(p *page) { p.holdTips(*least) }))
	add(must, b.Caution)
	add(must, p.w.MoreWord)
	return list
}

// holdFriction says what friction was taken, and why.
func (p *page) holdFriction(h talk.Hold) {
	w := &p.w.Hold
	m := tables.MechanicsFigures()
	p.say(w.Friction[h.From], "mu", twentieths(h.Friction), "on", p.rubbing(h.Rubbing))
	if h.Braked < 1 {
		p.say(w.Rolls, "share", strconv.Itoa(int(h.Braked*100)))
	}
	if h.Doubt {
		p.say(w.Doubt)
	}
	if h.High {
		p.say(w.High, "most", twentieths(m.FrictionHigh))
	}
	if h.Refused > 0 {
		p.say(w.Refused, "told", plainly(h.Refused), "most", twentieths(m.FrictionMost))
	}
}

// holdTies says how the tie-downs were taken.
func (p *page) holdTies(h talk.Hold) {
	w := &p.w.Hold
	m := tables.MechanicsFigures()
	p.holdAngles(h)
	if h.Corners {
		p.say(w.Corners)
	} else if h.Direct {
		p.say(w.Away)
	}
	if h.Over {
		p.say(w.Over, "keeps", strconv.Itoa(int(m.Keeps*100)))
	}
	if h.Left > 0 {
		p.say(w.Left, "n", strconv.Itoa(h.Left))
	}
	if h.Program {
		p.say(w.Program)
	}
	if h.Blank > 0 {
		p.say(w.Blank, "n", strconv.Itoa(h.Blank))
	}
	if h.Aside > 0 {
		p.say(w.Aside, "n", strconv.Itoa(h.Aside))
	}
}

// holdAngles says what angles were taken.
func (p *page) holdAngles(h talk.Hold) {
	w := &p.w.Hold
	m := tables.MechanicsFigures()
	if h.Direct || h.Over {
		p.say(w.Angles[h.Angles], "low", plainly(m.AngleLow), "high", plainly(m.AngleHigh))
	}
	if len(h.Odd) > 0 {
		p.say(w.Odd, "odd", plain(strings.Join(h.Odd, ", "), long))
	}
	if h.Flat {
		p.say(w.Flat, "flat", plainly(m.AngleFlat), "steep", plainly(m.AngleSteep))
	}
}

// holdTips says what was not worked out of tipping, and how it was.
func (p *page) holdTips(h talk.Hold) {
	w := &p.w.Hold
	switch {
	case !h.Height:
		p.say(w.NoHeight)
	case !h.Width && !h.Length:
		p.say(w.NoBase)
	case !h.Width:
		p.say(w.NoSides)
	case !h.Length:
		p.say(w.NoEnds)
	}
	if h.Height && (h.Width || h.Length) && h.Direct {
		p.say(w.Hooks)
	}
}

// rubbing is what it stands on, as it was looked up.
func (p *page) rubbing(r tables.Rubbing) string {
	w := &p.w.Hold
	contact, state := w.Contact[r.Contact], w.State[r.State]
	phrase := w.On
	if state == "" {
		phrase = w.Either
	}
	return strings.Join(strings.Fields(filled(phrase, "contact", contact, "state", state, "deck", w.Deck[r.Deck])), " ")
}

// holdWhy explains the weakest figure part by part.
func (p *page) holdWhy(h talk.Hold) {
	w := &p.w.Hold
	way := &h.Ways[h.Order[0]]
	p.turn()
	p.say(w.Rubs, "way", w.Ways[h.Order[0]], "g", twentieths(way.Rubs))
	if h.Direct {
		p.say(w.Pulls, "g", twentieths(way.Direct))
	}
	if h.Over {
		p.say(w.Presses, "g", twentieths(way.OverPress))
	}
	p.say(w.Own)
	p.turn()
}

// closer shows how to tell what would make the figures closer.
func (p *page) closer(h talk.Hold) {
	w := &p.w.Hold
	var list []string
	for _, c := range []struct {
		lacks bool
		tell  string
	}{
		{h.From == "" || h.Doubt, w.Tell.Rub}, {h.Direct && h.Angles != "told", w.Tell.Angles},
		{!h.Height, w.Tell.Height}, {!h.Width, w.Tell.Width}, {h.Height && h.Width && !h.Length, w.Tell.Length},
	} {
		if c.lacks {
			list = append(list, c.tell)
		}
	}
	if len(list) > 0 {
		p.line(w.Closer, "list", strings.Join(list, ", "))
	}
}

// heldData is the answer of the article that holds least.
func heldData(says []talk.Say) *held {
	var out *held
	least := 0.0
	for _, s := range says {
		h, ok := s.(talk.Hold)
		if !ok || out != nil && h.Ways[h.Order[0]].G >= least {
			continue
		}
		least = h.Ways[h.Order[0]].G
		out = &held{
			Forward: h.Ways[0].G, Rearward: h.Ways[1].G, Left: h.Ways[2].G, Right: h.Ways[3].G,
			Friction: h.Friction, Angles: map[string]string{"told": "as told", "partly": "as told, else worst of the range", "range": "worst of the range"}[h.Angles],
		}
		names := [4]string{"forward", "rearward", "left", "right"}
		tips, known := []string{}, false
		for i, way := range h.Ways {
			known = known || way.TipKnown
			if way.Tips {
				tips = append(tips, names[i])
			}
		}
		if known {
			out.Tips = &tips
		}
	}
	return out
}

// ofName names an article whose weight was not told, where it has a name.
func (p *page) ofName(name string) string {
	if name == "" {
		return ""
	}
	return filled(p.w.Hold.Of, "name", plain(name, long))
}

// englishHold is what is said of hold in English.
var englishHold = holdWords{
	Head:  "{what}, by mechanics, of what {cite} names:",
	Way:   "{way} {g} g of {of}",
	Ways:  [4]string{"forward", "rearward", "to the left", "to the right"},
	Sides: "to each side",
	Tips:  " (it may tip first)",
	Friction: map[string]string{
		"":      "Friction {mu}: what it stands on was not told.",
		"told":  "Friction {mu}, as told.",
		"table": "Friction {mu}, taken for {on}, not measured.",
	},
	Contact: map[string]string{"": "anything", "rubber": "rubber", "steel": "steel", "wood": "wood", "mat": "friction mats"},
	Deck:    map[string]string{"": "deck", "wood": "wood deck", "steel": "steel deck"},
	State:   map[string]string{"dry": "dry", "wet": "wet", "slick": "muddy or icy"},
	On:      "{contact} on a {state} {deck}",
	Either:  "{contact} on a {deck}, wet or dry",
	Rolls:   "Fore and aft {share} % of it: it may roll.",
	Angles: map[string]string{
		"told":   "Angles as told.",
		"partly": "Angles as told, else the worst from {low} to {high} degrees.",
		"range":  "Angles not told: the worst from {low} to {high} degrees.",
	},
	Flat:     "Below {flat} or above {steep} to the deck is rare: I took the worst of that and the range. Measure it again.",
	Odd:      "No angle I can use: {odd}.",
	Doubt:    "Words I could not read may be about the deck: taken as muddy or icy.",
	High:     "Above {most} takes mats made for it.",
	Refused:  "{told} is more than I take: {most} at the most.",
	Corners:  "One on each corner pulling out from it, up to the rating counted.",
	Away:     "Each pulling out from it, up to the rating counted.",
	Middle:   "Weight taken as in its middle.",
	Over:     "Over ones press with {keeps} % of their rating.",
	Left:     "{n} taken at less: place or route not told, on a part, or none like it across.",
	Program:  "Uneven pulls worked out as a whole, at the worst of some hook-ups.",
	Blank:    "{n} with no rating I know: nothing. Read the stamp or the tag.",
	Aside:    "{n} set aside: nothing.",
	NoHeight: "Tipping not worked out: height of its centre of gravity not told.",
	NoBase:   "No word on tipping: width and length of its base not told.",
	NoSides:  "No word on tipping sideways: width of its base not told.",
	NoEnds:   "No word on tipping fore and aft: length of its base not told.",
	Hooks:    "Against tipping direct ones count nothing: hook height not told.",
	Of:       " for the {name}",
	Count: map[string]string{
		"covered":   "The count decides: it adds up.",
		"fix":       "The count decides: mend what is bad first.",
		"short":     "The count decides: it is short.",
		"unsettled": "The count decides: not settled yet.",
	},
	Caution: "Bounce, slack or a weak ring make it less: read the stamps. Not a go-ahead.",
	Explain: "The count takes direct half, over whole; mechanics ranks them the other way: direct pulls, over only presses.",
	Closer:  "Closer: hold {list}",
	Tell:    closerWords{"rubber on wet steel", "chains at 45, 30 out", "cg 5 ft", "track 8 ft wide", "12 ft long"},

	Brief: briefHoldWords{
		Head:     "{what}: g held, of {cite}: {ways}.",
		Way:      "{way} {g} of {of}",
		Tips:     " (may tip)",
		Ways:     [4]string{"forward", "rearward", "left", "right"},
		Sides:    "each side",
		Friction: map[string]string{"": "Friction {mu}, not told.", "told": "Friction {mu}, told.", "table": "Friction {mu}, taken."},
		Rolls:    "Fore and aft {share} % of it.",
		Angles:   map[string]string{"told": "Angles told.", "partly": "Angles part told, else worst of {low} to {high}.", "range": "Angles not told: worst of {low} to {high}."},
		Others:   "{n} more in MORE.",
		Caution:  "The count decides. Not a go-ahead.",
		InMore:   "How many g: MORE.",
	},

	Rubs:    "{way}: friction alone {g}.",
	Pulls:   "Those that pull against it add {g}.",
	Presses: "Those over the top add {g}.",
	Own:     "The figures for friction, angles and what may roll are our own choice, no rule's.",
	Upper:   "It is the most that even tension gives: one longer or slacker takes its share late.",
}
