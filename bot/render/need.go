package render

import (
	"strconv"
	"strings"

	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// need says what the load in hand, or one asked about, still needs.
func (p *page) need(r *rules.Report) {
	if r == nil {
		return
	}
	p.lose = r.Verdict == rules.VerdictCovered
	for _, c := range worstFirst(r.Articles) {
		if len(c.Article.Ties) == 0 {
			p.needAll(c)
		} else {
			p.then(c)
		}
		var wanted []string
		for i := range c.Findings {
			if f := &c.Findings[i]; f.Outcome == rules.Untold && f.Rule != "aggregate" && f.Rule != "weight" {
				wanted = addNew(wanted, p.wanted(c, f))
			}
		}
		for _, s := range wanted {
			p.say(s)
		}
		p.turn()
	}
}

// needAll says what an article needs that nothing holds yet: half its weight, and
// what makes that up of the kinds most used.
func (p *page) needAll(c *rules.Count) {
	w := &p.w.Need
	if c.NoSum {
		if c.Article.Kind == "container" && c.Article.Cargo.Locked == load.Untold && c.Article.Weight.Known() {
			half := c.Article.Weight.High - tables.Of(p.lim.Need, c.Article.Weight.High)
			p.line(w.Corners, "what", p.what(c), "need", p.up(half))
			return
		}
		p.line(w.NoSum, "what", p.what(c))
		return
	}
	if !c.Article.Weight.Known() {
		p.line(w.NoWeight, "what", p.what(c))
		return
	}
	p.line(w.Half, "what", p.what(c), "need", p.needs(c), "share", p.share(c))
	kinds, least, way := usualChains, 0, load.Direct
	for i := range c.Findings {
		switch f := &c.Findings[i]; f.Rule {
		case "corners", "ends":
			least = max(least, f.Want)
		case "number":
			kinds, least, way = usualStraps, f.Want, load.Over
		case "boulder", "coils", "container", "flattened", "concrete", "roll-off":
			least = max(least, f.Want)
		}
	}
	for _, t := range kinds {
		p.say(w.Usual, "kinds", strings.TrimSpace(p.brief(t, 2)), "takes", p.takes(c.NeedHigh, t, least, way))
	}
	p.turn()
}

// usualChains and usualStraps are the kinds of tie-downs most used on machines
// and on cargo (common practice, no source).
var (
	usualChains = []load.TieDown{usualChain("3/8", load.Inch*3/8), usualChain("1/2", load.Inch/2)}
	usualStraps = []load.TieDown{
		{Material: load.Webbing, Size: load.Inch * 2, SizeWord: "2"}, {Material: load.Webbing, Size: load.Inch * 4, SizeWord: "4"},
	}
)

func usualChain(word string, size load.Length) load.TieDown {
	return load.TieDown{Material: load.Chain, Size: size, SizeWord: word, Grade: load.Grade{Value: "70", Reading: load.Read}}
}

// takes says how many of a kind make up a need, and no fewer than least: "4
// direct, 5 with 5,400 binders".
func (p *page) takes(need load.Mass, t load.TieDown, least int, way load.Route) string {
	t.Route = way
	in := rules.Credit(&t, p.lim)
	n := max(least, int(ceil(need, in.Low)))
	s := filled(p.w.Need.Takes, "n", strconv.Itoa(n), "way", p.w.Do.Ways[way])
	if weak := max(least, int(ceil(need, in.Weaker))); weak > n {
		if f, ok := tables.WeakerBinder(t.Size); ok {
			s += filled(p.w.Need.Weak, "n", strconv.Itoa(weak), "weak", p.stamp(f.WLL))
		}
	}
	return s
}

// wanted says what a finding still asks for.
func (p *page) wanted(c *rules.Count, f *rules.Finding) string {
	w := &p.w.Need
	phrase := w.Wanted[f.Rule]
	switch {
	case f.Ask == rules.AskKind:
		phrase = w.Kind
	case f.Rule == "accessory" && c.Heavy == load.No:
		phrase = w.Latched
	case f.Rule == "number" && c.Article.Length == 0:
		phrase = w.Length
	case phrase == "":
		return p.finding(c, f)
	}
	return capital(p.filledFor(c, f, phrase))
}
