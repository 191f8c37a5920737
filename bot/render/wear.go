package render

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/bot/talk"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// wear answers a question of wear or damage from the tables: how the hurt is
// taken, then the limits it was held against and whose they are.
func (p *page) wear(s talk.Wear) {
	w, t := &p.w.Wear, &s.Tie
	p.asked = true
	switch {
	case len(t.State.Damage) == 0:
		p.say(w.NoHurt)
		return
	case t.Material == load.Webbing && cutOf(t) > 0:
		p.cutStrap(t, cutOf(t))
		return
	case t.Material == load.Chain && t.State.Damage[0].Left > 0 && p.wornLink(t, t.State.Damage[0].Left):
		return
	case t.State.Damage[0].Kind == "repair link", t.State.Damage[0].Kind == "matching link":
		p.say(w.Repair)
		return
	}
	d := &t.State.Damage[0]
	what, why := p.hurtPart(t), p.hurtTold(t)
	a := s.Aside
	switch _, outright := outFor(t); {
	case a == nil:
		p.say(w.Counts, "what", what, "why", why)
		p.limits(t)
	case a.Settle == "damage":
		p.say(w.NoFigure, "what", what, "why", why)
	case a.Settle != "" && !d.Measured():
		p.limits(t)
		p.say(w.Measure, "what", what, "why", why)
	case a.Settle != "":
		p.say(w.Open, "what", what, "why", why)
		p.limits(t)
	case a.Counts:
		p.say(w.Change, "what", what, "why", why)
		p.limits(t)
	case outright:
		p.say(w.Out, "what", what, "why", why)
		p.outSource(t, a.Cite)
	default:
		p.say(w.Past, "what", what, "why", why)
		p.limits(t)
	}
	if d.Measured() && t.Material == load.Chain && ofLink(*d) {
		p.howMeasured(t)
	}
}

// wornLink takes a worn link by what is left of it against the stock it was made
// of; false where its size is not told.
func (p *page) wornLink(t *load.TieDown, left load.Length) bool {
	w := &p.w.Wear
	limit, _, _, ok := tables.WornBelow(t.Size, t.Grade.Value)
	switch {
	case !ok && t.Size > 0:
		p.say(w.NoRow, "what", p.w.full(*t))
		return true
	case !ok, left > t.Size+t.Size/4:
		return false
	}
	phrase := w.LinkIn
	if left < limit {
		phrase = w.LinkOut
	}
	p.say(phrase, "left", p.length(left), "limit", p.limit(limit, left), "what", p.brief(*t, 1))
	p.howMeasured(t)
	return true
}

// hurtPart names what is hurt: the tie-down, or the part of it where nothing else
// was told.
func (p *page) hurtPart(t *load.TieDown) string {
	if part, alone := partAlone(t); alone {
		return word(p.w.Name.Limits, part)
	}
	if t.Size > 0 {
		return p.brief(*t, 1)
	}
	return p.w.noun(t.Material, 1)
}

// partAlone is the part hurt where nothing was told of the tie-down it is on.
func partAlone(t *load.TieDown) (string, bool) {
	if t.Size == 0 {
		switch part := t.State.Damage[0].Part; part {
		case "hook", "binder", "ratchet", "anchor":
			return part, true
		}
	}
	return "", false
}

// cutOf is how much of a strap's width its cuts take together.
func cutOf(t *load.TieDown) (sum load.Length) {
	for _, d := range t.State.Damage {
		for _, size := range d.Size {
			sum += size
		}
		if n, ok := load.Times(d.Share, t.Size); ok {
			sum += n
		}
	}
	return sum
}

// cutStrap takes a strap's cuts together against both limits, the stricter
// first.
func (p *page) cutStrap(t *load.TieDown, cuts load.Length) {
	w := &p.w.Wear
	published, trade, _, ok := tables.CutLimits(t.Size)
	cut := p.length(cuts)
	switch {
	case !ok && t.Size == 0:
		p.say(w.Open, "what", p.hurtPart(t), "why", p.hurtTold(t))
		p.widths()
		return
	case !ok:
		p.say(w.NoRow, "what", p.w.full(*t))
		return
	case cuts > published:
		p.say(w.CutOut, "cut", cut, "limit", inches(published))
	case trade > 0 && cuts > trade:
		p.say(w.CutTrade, "cut", cut, "limit", inches(trade))
	case trade > 0 && cuts == trade:
		p.say(w.CutJust, "cut", cut)
	default:
		p.say(w.CutIn, "cut", cut)
	}
	p.strapLimits(t)
	p.say(p.w.Aside.LookAlong)
	p.say(w.SecondHand)
}

// outFor is what puts a hurt tie-down out whatever the measure.
func outFor(t *load.TieDown) (*tables.Defect, bool) {
	for i := range t.State.Damage {
		d := &t.State.Damage[i]
		part := d.Part
		if part == "" || part == "rope" {
			part = string(t.Material)
		}
		if rule, ok := tables.OutFor(part, d.Kind); ok {
			return rule, true
		}
		if _, limited := tables.HurtLimit(part, d.Kind, "share"); limited {
			continue
		}
		if rule, ok := tables.OutFor(string(load.Chain), d.Kind); ok {
			return rule, true
		}
	}
	return nil, false
}

// outSource names what puts it out, and the section that its set of rules has on it.
func (p *page) outSource(t *load.TieDown, cite string) {
	if rule, ok := outFor(t); ok {
		p.say(p.w.Wear.By, "source", rule.Text, "cite", cite)
	}
}

// hurtTold is the first hurt with its measure: "broken wires, 12 counted",
// "opened, 1/8 in of 1 in".
func (p *page) hurtTold(t *load.TieDown) string {
	_, alone := partAlone(t)
	return p.hurtName(&t.State.Damage[0], !alone) + p.measuresOf(t, hurtKey(&t.State.Damage[0]))
}

// hurtName is a hurt in words, with the part that it is of.
func (p *page) hurtName(d *load.Damage, part bool) string {
	key, at, fitting := strings.Cut(hurtKey(d), "/")
	said := word(p.w.Aside.Why, key)
	if fitting && part {
		said += " " + word(p.w.Name.Limits, at)
	}
	return said
}

// hurtKey is a hurt as the rules name it, and the fitting it is of.
func hurtKey(d *load.Damage) string {
	key := d.Kind
	switch key {
	case "wires", "strand":
		key = "broken " + key
	}
	switch d.Part {
	case "hook", "binder", "ratchet", "anchor":
		key += "/" + d.Part
	}
	return key
}

// measuresOf is what was measured of the hurts of that key, cuts aside.
func (p *page) measuresOf(t *load.TieDown, key string) string {
	var list []string
	for i := range t.State.Damage {
		if d := &t.State.Damage[i]; hurtKey(d) == key {
			list = append(list, p.measureOf(d, t.Material))
		}
	}
	return strings.Join(list, "")
}

// measureOf is what was measured of a hurt of that material, sizes of cuts aside: ", 12 counted in 3 in".
func (p *page) measureOf(d *load.Damage, m load.Material) string {
	w := &p.w.Aside
	said := ""
	switch {
	case d.Left > 0:
		return filled(w.Left, "left", p.length(d.Left))
	case d.Lost > 0 && d.New > 0:
		return filled(w.LostOf, "lost", p.length(d.Lost), "new", p.length(d.New))
	case d.Lost > 0:
		return filled(w.Lost, "lost", p.length(d.Lost))
	case d.Share > 0 && m == load.Webbing:
		return filled(w.Across, "share", share(d.Share))
	case d.Share > 0:
		return filled(w.Share, "share", share(d.Share))
	}
	wires := func(n int, where string) {
		if n > 0 {
			said += filled(w.Wires, "n", strconv.Itoa(n), "where", where)
		}
	}
	where := ""
	switch {
	case d.Lay:
		where = p.w.Wear.InLay
	case d.Over > 0:
		where = filled(p.w.Wear.Within, "length", p.length(d.Over))
	}
	wires(d.Wires, where)
	wires(d.Strand, p.w.Wear.InStrand)
	wires(d.Fitting, p.w.Wear.AtFitting)
	return said
}

// share writes a share in hundredths.
func share(n load.Micro) string {
	return strconv.FormatFloat(float64(n)*100/float64(load.One), 'f', -1, 64)
}

// length writes a measure as it was told: in inches, or in millimetres with what
// that is.
func (p *page) length(l load.Length) string {
	const thousandth = load.Inch / 1000
	inch := inches(l)
	if l%(load.Inch/64) != 0 {
		inch = decimal(l)
	}
	if l%(load.Inch/64) != 0 && l%thousandth != 0 && l%(load.Millimetre/1000) == 0 {
		return millimetres(l) + " (" + inch + p.w.Name.Inch + ")"
	}
	return inch + p.w.Name.Inch
}

// limit writes a limit beside a measure: in millimetres too where that was told
// in them.
func (p *page) limit(l, told load.Length) string {
	if strings.Contains(p.length(told), "(") {
		return millimetres(l) + " (" + decimal(l) + p.w.Name.Inch + ")"
	}
	return decimal(l)
}

// millimetres writes a length in millimetres without needless zeros.
func millimetres(l load.Length) string {
	return strconv.FormatFloat(float64(l)/float64(load.Millimetre), 'f', -1, 64) + " mm"
}

// howMeasured says how a worn link is measured, and what the figures rest on.
func (p *page) howMeasured(t *load.TieDown) {
	w := &p.w.Wear
	_, nominal, src, ok := tables.WornBelow(t.Size, t.Grade.Value)
	if !ok {
		return
	}
	p.say(w.LinkHow, "nominal", decimal(nominal))
	if least, by, src, ok := tables.LiftingWear(t.Size); ok {
		p.say(w.Lifting, "least", decimal(least), "by", by, "mark", p.mark(src))
	}
	p.say(w.Stock, "mark", p.mark(src))
}

// ofLink says whether a hurt is wear of a chain's link, told by what is left.
func ofLink(d load.Damage) bool {
	switch d.Kind {
	case "worn", "nicked", "gouged", "cut", "rusted", "damaged":
		return d.Part == "" || d.Part == string(load.Chain)
	}
	return false
}

// limits says what the hurts of a tie-down are held against, once a reply.
func (p *page) limits(t *load.TieDown) {
	w := &p.w.Wear
	for _, d := range t.State.Damage {
		switch {
		case d.Kind == "repair link":
			p.once(w.Repair)
		case d.Part == "hook" && (d.Kind == "opened" || d.Kind == "worn"):
			p.hookLimits(d.Kind)
		case d.Kind == "wires":
			p.wireLimits(t, p.asked)
		case t.Material == load.Cordage && (d.Kind == "worn" || d.Kind == "frayed"):
			if rule, ok := tables.HurtLimit(string(load.Cordage), "worn", "share"); ok {
				p.once(filled(w.Rope, "share", strconv.Itoa(rule.Count()), "source", rule.Text))
			}
		case t.Material == load.Chain && ofLink(d):
			p.linkLimit(t, d.Left)
		case t.Material == load.Webbing && cutLike(t):
			p.strapLimits(t)
		}
	}
}

// cutLike says whether the hurts of a strap are of those that its limits speak
// of: none is out by itself, or of its fittings.
func cutLike(t *load.TieDown) bool {
	_, outright := outFor(t)
	return !outright && !slices.ContainsFunc(t.State.Damage, func(d load.Damage) bool {
		return d.Part != "" && d.Part != string(load.Webbing) || d.Kind == "rotted"
	})
}

// once says a line that this reply has not said yet.
func (p *page) once(line string) {
	if p.opening(line) {
		p.line(line)
	}
}

// opening says whether this reply has not said what key stands for, and notes it.
func (p *page) opening(key string) bool {
	if p.said[key] {
		return false
	}
	if p.said == nil {
		p.said = map[string]bool{}
	}
	p.said[key] = true
	return true
}

// strapLimits names what a strap of that width may be cut, the stricter first.
func (p *page) strapLimits(t *load.TieDown) {
	published, trade, _, ok := tables.CutLimits(t.Size)
	if !ok {
		if t.Size == 0 {
			p.widths()
		}
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

// widths names the limits of every width of the table, for a strap whose width
// was not told.
func (p *page) widths() {
	var list []string
	for _, width := range tables.CutWidths() {
		published, trade, _, _ := tables.CutLimits(width)
		phrase := p.w.Wear.Width
		if trade > 0 {
			phrase = p.w.Wear.WidthTrade
		}
		list = append(list, filled(phrase, "width", inches(width), "published", inches(published), "trade", inches(trade)))
	}
	p.once(filled(p.w.Wear.Widths, "list", strings.Join(list, "; ")))
}

// linkLimit says below what a worn link is out.
func (p *page) linkLimit(t *load.TieDown, told load.Length) {
	limit, _, _, ok := tables.WornBelow(t.Size, t.Grade.Value)
	if !ok {
		if t.Size == 0 {
			a, _, _, _ := tables.WornBelow(load.Inch*3/8, "70")
			b, _, _, _ := tables.WornBelow(load.Inch/2, "70")
			p.once(filled(p.w.Wear.LinkSizes, "three", decimal(a), "half", decimal(b)))
		}
		return
	}
	if !p.opening("link " + decimal(limit)) {
		return
	}
	below := p.limit(limit, told)
	if !strings.Contains(below, "(") {
		below += p.w.Name.Inch
	}
	p.once(filled(p.w.Wear.LinkLimit, "limit", below))
}

// hookLimits names the figures for a hook, which are those of lifting rules.
func (p *page) hookLimits(kind string) {
	rule, ok := tables.HurtLimit("hook", kind, "share")
	if !ok {
		return
	}
	if most, ok := tables.HurtLimit("hook", kind, "most"); ok {
		p.once(filled(p.w.Wear.HookOpen, "share", strconv.Itoa(rule.Count()), "most", inches(most.Length()), "source", rule.Text, "mark", p.mark(rule.Source)))
		return
	}
	p.once(filled(p.w.Wear.HookWorn, "share", strconv.Itoa(rule.Count()), "source", rule.Text, "mark", p.mark(rule.Source)))
}

// wireLimits names the figures for broken wires: the road's, and, where it is all
// that was asked, those of lifting beside them.
func (p *page) wireLimits(t *load.TieDown, beside bool) {
	n := func(measure string) string {
		rule, ok := tables.HurtLimit(string(load.WireRope), "wires", measure)
		if !ok {
			return ""
		}
		return strconv.Itoa(rule.Count())
	}
	span := ""
	if rule, ok := tables.HurtLimit(string(load.WireRope), "wires", "span"); ok && t.Size > 0 {
		span = filled(p.w.Wear.Span, "length", p.length(load.Length(rule.Count())*t.Size))
	}
	p.once(filled(p.w.Wear.Wires, "along", n("along"), "span", n("span"), "length", span, "strand", n("strand"), "fitting", n("fitting")))
	if !beside {
		return
	}
	p.once(filled(p.w.Wear.WiresLifting, "crane", n("crane lay"), "cranestrand", n("crane strand"), "sling", n("sling lay"), "slingstrand", n("sling strand")))
}
