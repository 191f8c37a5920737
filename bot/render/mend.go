package render

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/rules"
	"halfweight/rules/load"
)

// mends says what would mend a short article: what to put on, all of it in one
// sentence, then what else to do. Tightening and binders are said with what is
// set aside; where that alone does it, nothing else is.
func (p *page) mends(c *rules.Count) {
	if c.Verdict == rules.VerdictUnsettled {
		return
	}
	d := &p.w.Do
	var puts, dos []string
	where, ends := p.lacking(c)
	for i := range c.Mends {
		m := &c.Mends[i]
		switch {
		case m.Alone:
			return
		case m.Do == rules.DoTighten, m.Do == rules.DoBinder:
		case m.Do != "":
			if m.Do == rules.DoLower && overPart(c, m.Part) {
				dos = append(dos, filled(d.Lower, "part", p.w.part(m.Part, c.Article.Parts)))
				continue
			}
			dos = append(dos, p.mend(c, m, ""))
		case atEnd(m) && where != "":
			if ends > 0 {
				puts = append(puts, p.many(ends, p.brief(m.Tie, ends), false)+d.Ways[m.Tie.Route]+where)
				ends = 0 // said with the first
			}
		case m.Or && len(puts) > 0:
			puts[len(puts)-1] += d.Or + p.mend(c, m, p.brief(m.Tie, m.Count))
		default:
			kind := p.brief(m.Tie, m.Count)
			if len(puts) > 0 && sameKind(&c.Mends[i-1].Tie, &m.Tie) {
				kind = ""
			}
			if ways := p.eitherWay(c, m); ways != "" {
				puts = append(puts, p.many(1, kind, inUse(c, &m.Tie))+ways)
				continue
			}
			puts = append(puts, p.mend(c, m, kind)+p.direct(c, m))
		}
	}
	for _, do := range dos {
		p.say(d.Do, "what", do)
	}
	if len(puts) > 0 {
		p.say(d.PutOn, "what", strings.Join(puts, d.And))
		p.oneTies(c)
	}
}

// oneTies says of what goes over the article that it may as well go over the part
// that is asked about: that one tie-down does both.
func (p *page) oneTies(c *rules.Count) {
	i := slices.IndexFunc(c.Mends, func(m rules.Mend) bool {
		return m.Do == "" && !m.Or && m.Tie.Route == load.Over && m.Tie.Place == (load.Place{})
	})
	k := slices.IndexFunc(c.Findings, func(f rules.Finding) bool {
		return f.Rule == "accessory" && f.Outcome == rules.Untold && f.Ask == rules.AskTied
	})
	if i < 0 || k < 0 {
		return
	}
	one := p.w.Do.OneOfThem
	if c.Mends[i].Count == 1 {
		one = p.w.Do.OneAlone
	}
	p.say(p.w.Do.OneTies, "one", one, "part", p.findingPart(c, c.Findings[k].Part, c.Findings[k].Subject))
}

// overPart says whether one of the mends puts a tie-down over a part: that ties it.
func overPart(c *rules.Count, part string) bool {
	return slices.ContainsFunc(c.Mends, func(m rules.Mend) bool { return m.Do == "" && m.Tie.Place.On == part })
}

// settles says what to put on that would settle what is open, whatever the
// answer.
func (p *page) settles(c *rules.Count) {
	if c.Verdict != rules.VerdictUnsettled || len(c.Mends) == 0 || c.Mends[0].Do != "" {
		return
	}
	m := &c.Mends[0]
	it := p.w.Do.It
	switch n := len(m.Closes); {
	case n == 2:
		it = p.w.Do.Both
	case n > 2:
		it = filled(p.w.Do.All, "n", strconv.Itoa(n))
	}
	p.say(p.w.Do.Settles, "what", p.mend(c, m, p.brief(m.Tie, m.Count)), "it", it)
}

// atEnd says whether a mend holds the article itself at one of its ends.
func atEnd(m *rules.Mend) bool {
	return m.Do == "" && m.Tie.Route == load.Direct && m.Tie.Place.End != ""
}

// lacking says where those go that corners or ends lack, and how many are to be
// said: in place of what is set aside, or where none is, the places of those in
// use not being told. It is "" where the ends that lack them are known.
func (p *page) lacking(c *rules.Count) (where string, n int) {
	d := &p.w.Do
	corners := false
	lack := map[string]int{}
	for i := range c.Mends {
		if m := &c.Mends[i]; atEnd(m) {
			n += m.Count
			lack[m.Tie.Place.End] += m.Count
			corners = corners || slices.Contains(m.Closes, "corners")
		}
	}
	if n == 0 {
		return "", 0
	}
	told, gone := 0, 0 // told: that another goes there is said with what is set aside
	for i := range c.SetAside {
		switch a := &c.SetAside[i]; {
		case !holdsEnd(&a.Tie) || a.Counts || mendKey(a) == "no binder":
			continue
		case a.Fix:
			told += a.Count
		default:
			gone += a.Count
		}
		lack[c.SetAside[i].Tie.Place.End] -= c.SetAside[i].Count
	}
	unplaced := slices.ContainsFunc(c.Lines, func(l rules.Line) bool {
		return l.Tie.Place == (load.Place{}) && l.Tie.Route == load.Direct
	})
	there := unplaced && n <= told+gone || lack["front"] <= 0 && lack["rear"] <= 0
	switch {
	case there && n <= told:
		return d.InPlace, 0
	case there && n == told+1 && told > 0:
		return d.InThatOnes, 1
	case there && n == 1:
		return d.InPlace, 1
	case there:
		return d.InPlaces, n - told
	case !unplaced:
		return "", 0
	case n > 1 && corners:
		return d.EachCorner, n
	case corners:
		return d.Corner, n
	case n == 1:
		return d.OtherEnd, n
	}
	return "", 0
}

// holdsEnd says whether a tie-down is one that corners or ends count.
func holdsEnd(t *load.TieDown) bool {
	at := t.Place
	return at.On == "" && at.End != "middle" && (at != (load.Place{}) || t.Route == load.Direct)
}

// eitherWay says what one gives over and direct, where one more does it either
// way.
func (p *page) eitherWay(c *rules.Count, m *rules.Mend) string {
	over, direct := p.each(m, load.Over), p.each(m, load.Direct)
	if !p.weightAlone(c, m) || m.Count > 1 || c.NeedHigh-c.Credit > direct {
		return ""
	}
	return filled(p.w.Do.EitherWay, "over", p.down(over), "direct", p.down(direct))
}

// direct says how many direct ones would do in place of those over that close
// the gap of the weight, where that is all there is to mend.
func (p *page) direct(c *rules.Count, m *rules.Mend) string {
	direct := p.each(m, load.Direct)
	if !p.weightAlone(c, m) || direct == 0 {
		return ""
	}
	n := ceil(c.NeedHigh-c.Credit, direct)
	if m.Hand > 0 && n > int64(m.Hand) {
		return "" // more than there are
	}
	return filled(p.w.Do.Twice, "n", strconv.FormatInt(n, 10))
}

// weightAlone says whether a mend puts on what the weight lacks, no more of them for
// another rule's sake, and nothing else is to be mended.
func (p *page) weightAlone(c *rules.Count, m *rules.Mend) bool {
	over := p.each(m, load.Over)
	if over == 0 || ceil(c.NeedHigh-c.Credit, over) != int64(m.Count) {
		return false
	}
	if !slices.Equal(m.Closes, []string{"aggregate"}) || m.Tie.Route != load.Over || m.Tie.Place != (load.Place{}) {
		return false
	}
	return !slices.ContainsFunc(c.Mends, func(other rules.Mend) bool { return !other.Or && !sameMend(&other, m) })
}

func sameMend(a, b *rules.Mend) bool {
	return a.Do == b.Do && a.Count == b.Count && a.Tie.Route == b.Tie.Route && a.Tie.Place == b.Tie.Place
}

// each is what one of what a mend puts on counts for, run that way.
func (p *page) each(m *rules.Mend, way load.Route) load.Mass {
	t := m.Tie
	t.Route = way
	return rules.Credit(&t, p.lim).Low
}

// mend is one step to mend a short article: "one more 3/8 g70 chain over". The
// data names its kind in full, the reply in brief.
func (p *page) mend(c *rules.Count, m *rules.Mend, kind string) string {
	d := &p.w.Do
	if m.Do != "" {
		return filled(d.Instead[m.Do], "part", p.w.part(m.Part, c.Article.Parts), "which", p.pieces(c, m.IDs))
	}
	var s strings.Builder
	at := m.Tie.Place
	s.WriteString(p.many(m.Count, kind, at == (load.Place{}) && inUse(c, &m.Tie)))
	part := p.w.part(at.On, c.Article.Parts)
	switch {
	case at.On == "joint":
		s.WriteString(d.Across)
	case at.On != "" && m.Tie.Route == load.Over:
		s.WriteString(filled(d.Over, "part", part))
	case at.On != "":
		s.WriteString(filled(d.OnPart, "part", part))
	default:
		s.WriteString(d.Ways[m.Tie.Route])
		if place := p.w.place(at, nil); place != "" {
			s.WriteString(filled(d.At, "place", place))
		}
	}
	if m.Binder > 0 {
		s.WriteString(filled(d.Binder, "least", p.stampUp(m.Binder)))
	}
	return s.String()
}

// many is so many of a kind: "one more 3/8 g70 chain", "2".
func (p *page) many(n int, kind string, more bool) string {
	s := p.number(n)
	if more {
		s += p.w.Do.More
	}
	if kind != "" {
		s += " " + kind
	}
	return s
}

// number is a count of things: one in a word, more in figures.
func (p *page) number(n int) string {
	if n == 1 {
		return p.w.Do.One
	}
	return strconv.Itoa(n)
}

// inUse says whether a kind is among those that hold the article.
func inUse(c *rules.Count, t *load.TieDown) bool {
	for i := range c.Lines {
		if sameKind(&c.Lines[i].Tie, t) {
			return true
		}
	}
	return false
}

// pieces names the tie-downs set aside that have some of the ids.
func (p *page) pieces(c *rules.Count, ids []int) string {
	var which []string
	for i := range c.SetAside {
		if l := &c.SetAside[i].Line; about(l, ids) {
			which = append(which, p.which(c, l))
		}
	}
	return p.w.list(which)
}
