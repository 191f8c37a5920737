package render

import (
	"halfweight/bot/talk"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// wear answers a question of wear or damage from the tables.
func (p *page) wear(s talk.Wear) {
	w, t := &p.w.Wear, &s.Tie
	var cuts, left load.Length
	for _, d := range t.State.Damage {
		for _, size := range d.Size {
			cuts += size
		}
		if d.Left > 0 {
			left = d.Left
		}
	}
	switch {
	case t.Material == load.Webbing && cuts > 0:
		p.cutStrap(t, cuts)
	case t.Material == load.Chain && left > 0:
		p.wornLink(t, left)
	case s.Aside != nil && s.Aside.Settle != "":
		p.say(w.Measure, "what", p.brief(*t, 1), "why", word(p.w.Aside.Why, s.Aside.Why))
		p.limits(t)
	case s.Aside != nil:
		what := p.w.noun(t.Material, 1)
		if t.Size > 0 {
			what = p.brief(*t, 1)
		}
		p.say(w.Out, "what", what, "why", p.why(s.Aside))
	default:
		p.say(w.NoHurt)
	}
}

// cutStrap takes a strap's cuts together against both limits, the stricter
// first.
func (p *page) cutStrap(t *load.TieDown, cuts load.Length) {
	w := &p.w.Wear
	published, trade, _, ok := tables.CutLimits(t.Size)
	switch {
	case !ok:
		p.say(w.NoRow, "what", p.w.full(*t))
		return
	case cuts > published:
		p.say(w.CutOut, "cut", inches(cuts), "limit", inches(published))
	case trade > 0 && cuts > trade:
		p.say(w.CutTrade, "cut", inches(cuts), "limit", inches(trade))
	case trade > 0 && cuts == trade:
		p.say(w.CutJust, "cut", inches(cuts))
	default:
		p.say(w.CutIn, "cut", inches(cuts))
	}
	p.limits(t)
	p.say(p.w.Aside.LookAlong)
	p.say(w.SecondHand)
}

// wornLink takes a worn link against the stock it was made of.
func (p *page) wornLink(t *load.TieDown, left load.Length) {
	w := &p.w.Wear
	stock, nominal, src, ok := tables.WornBelow(t.Size, t.Grade.Value)
	if !ok {
		p.say(w.NoRow, "what", p.w.full(*t))
		return
	}
	phrase := w.LinkIn
	if left < stock {
		phrase = w.LinkOut
	}
	p.say(phrase, "left", decimal(left), "limit", decimal(stock), "what", p.brief(*t, 1))
	p.say(w.LinkHow, "nominal", decimal(nominal))
	p.say(w.Stock, "mark", p.mark(src))
}

// limits names what a strap of that width may be cut, the stricter first.
func (p *page) limits(t *load.TieDown) {
	if t.Material != load.Webbing {
		return
	}
	published, trade, _, ok := tables.CutLimits(t.Size)
	if !ok {
		return
	}
	if p.limited == t.Size {
		return // said of another
	}
	p.limited = t.Size
	phrase := p.w.Wear.Limits
	if trade == 0 {
		phrase = p.w.Wear.Limit
	}
	p.say(phrase, "width", p.w.size(*t), "published", inches(published), "trade", inches(trade))
	if !p.edges {
		p.say(p.w.Wear.Edges)
	}
}
