package render

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/bot/talk"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// count says what is needed and what there is, numbers always with what they
// are of. What is asked about anyway is not asked for here.
func (p *page) count(c *rules.Count, q *talk.Question) {
	p.turn()
	n := &p.w.Count
	need, has, list := p.needs(c), p.down(c.Credit), p.tally(c)
	if len(c.Article.Ties) == 0 && !c.NoSum {
		if c.Article.Weight.Known() {
			p.say(n.NeedsOnly, "need", need)
		}
		if c.Article.Bare {
			p.say(n.Bare)
		} else {
			p.say(n.NoTies)
		}
	}
	switch {
	case len(c.Article.Ties) == 0, c.NoSum:
	case c.Credit == 0 && !c.Article.Weight.Known():
		p.say(n.NoCredit, "has", has, "list", list)
	case !c.Article.Weight.Known():
		p.say(n.NoWeight, "has", has, "list", list, "good", p.down(c.GoodUpTo), "unit", p.word, "if", p.goodIf(c))
	case c.Verdict == rules.VerdictShort || c.Verdict == rules.VerdictUnsettled:
		p.say(n.Weight, "need", need, "has", has, "list", list)
	default:
		p.say(n.Needs, "need", need, "has", has, "list", list)
	}
	p.binders(c, q != nil && q.Key == rules.AskBinder)
	p.weakest(c)
	p.marks(c)
	for i := range c.Findings {
		f := &c.Findings[i]
		switch {
		case counted(f):
			p.say(p.finding(c, f))
		case f.Rule == "eye" && f.Outcome == rules.Untold && (q == nil || q.Key != rules.AskEye):
			p.turn()
			p.say(p.finding(c, f))
			p.turn()
		case f.Rule == "aggregate" && f.Outcome == rules.Untold && c.Most > c.Credit && c.Credit < c.NeedHigh:
			p.upTo(c)
		}
	}
	for _, m := range c.Remarks {
		if m.Code == rules.RemarkUnder5000 {
			p.say(p.w.Remarks[m.Code])
		}
	}
	p.say(p.sinks(c))
}

// needs is half the weight, of one told loosely at both its ends.
func (p *page) needs(c *rules.Count) string {
	need := p.up(c.NeedHigh)
	if low := p.up(c.NeedLow); low != need {
		return filled(p.w.Head.Range, "from", low, "to", need)
	}
	return need
}

// upTo says what the sum may come to once the rest is told.
func (p *page) upTo(c *rules.Count) {
	if c.Most == rules.Unbounded {
		p.say(p.w.Count.AnyMore)
		return
	}
	p.say(p.w.Count.UpTo, "most", p.down(c.Most))
}

// counted says whether a finding stands in the count, beside the weight.
func counted(f *rules.Finding) bool {
	switch f.Rule {
	case "number":
		return true
	case "corners", "ends", "chocks", "contact":
		return f.Outcome != rules.Untold
	case "eye":
		return f.Outcome != rules.Untold
	case "accessory", "articulation":
		return f.Outcome == rules.Met
	}
	return ownSection(f.Rule)
}

// logs says whether a share of its weight of its own is asked of an article: of
// logs that lie lengthwise, or may.
func (p *page) logs(c *rules.Count) bool { return c.NeedLow > 0 && c.NeedLow*3 < c.Article.Weight.Low }

// share is the part of its weight that must hold an article: what the law in
// force asks, of logs that lie lengthwise a sixth.
func (p *page) share(c *rules.Count) string {
	switch {
	case !p.logs(c):
		return p.figure("share")
	case c.NeedHigh*3 < c.Article.Weight.High:
		return p.w.Name.Sixth
	}
	return p.w.Name.SixthToHalf
}

// finding is one requirement as a sentence.
func (p *page) finding(c *rules.Count, f *rules.Finding) string {
	words := p.findingWords(f)
	if f.Rule == "aggregate" && !c.Article.Weight.Known() {
		words = p.w.Findings["aggregate/weight not told"] // there is no need to name
	}
	return capital(p.filledFor(c, f, words.Say))
}

// short is what a short requirement is short of, for the first line.
func (p *page) short(c *rules.Count, f *rules.Finding) string {
	return p.filledFor(c, f, p.findingWords(f).Head)
}

func (p *page) findingWords(f *rules.Finding) findingWords {
	if w, ok := p.w.Findings[f.Rule+"/"+f.Reason]; ok || !ownSection(f.Rule) {
		return w
	}
	return p.w.Findings["cargo/"+f.Reason] // said alike of every section's own count
}

// ownSection says whether a rule is that of a section which one kind of cargo has
// to itself.
func ownSection(rule string) bool {
	switch rule {
	case "logs", "lumber", "coils", "concrete", "container", "flattened", "roll-off", "boulder":
		return true
	}
	return false
}

// filledFor fills the words of a finding from its article.
func (p *page) filledFor(c *rules.Count, f *rules.Finding, phrase string) string {
	var room [128]byte
	return string(expand(room[:0], phrase, func(name string) string {
		switch name {
		case "part":
			return p.findingPart(c, f.Part, f.Subject)
		case "down":
			if p.toldDown(c, f.Part) {
				return p.w.Name.Down
			}
			return ""
		case "blocked":
			if c.Article.Blocked == load.Yes {
				return p.w.Name.Blocked
			}
			return ""
		case "have":
			if f.Outcome == rules.Met && f.Rule == "corners" {
				return strconv.Itoa(min(f.Have, f.Want)) // "4 of 4", however many more there are
			}
			return strconv.Itoa(f.Have)
		case "want":
			return strconv.Itoa(f.Want)
		case "corners", "Corners":
			return p.corners(f, name == "Corners")
		case "need":
			return p.up(c.NeedHigh)
		case "low":
			return p.up(c.NeedLow)
		case "share":
			return p.share(c)
		case "checks":
			return p.checks(c.Article, f.Part)
		case "has":
			return p.down(c.Credit)
		case "weaker":
			return p.down(c.Weaker)
		case "good":
			return p.down(c.GoodUpTo)
		case "weight":
			return p.near(c.Article.Weight.Told)
		}
		return p.figure(name)
	}))
}

// corners is what tie-downs on the article itself are called: a machine has four
// corners, so where a house rule asks for more they are not all at corners.
func (p *page) corners(f *rules.Finding, first bool) string {
	s := p.w.Name.Corners
	if f.Want > 4 {
		s = p.w.Name.OnItself
	}
	if first {
		return capital(s)
	}
	return s
}

func (p *page) findingPart(c *rules.Count, key, subject string) string {
	if subject != "" {
		return plain(subject, long)
	}
	return p.w.part(key, c.Article.Parts)
}

// toldDown says whether a part was told lowered.
func (p *page) toldDown(c *rules.Count, key string) bool {
	return partDown(c.Article, key)
}

func partDown(a *load.Article, key string) bool {
	return slices.ContainsFunc(a.Parts, func(part load.Part) bool { return part.Name == key && part.Down == load.Yes })
}

// tally lists what counts: ": 4 chains 3/8 g70 direct at half 13,200, 1 over
// whole 6,600"; of one kind alone, the sum being said, what each is rated: ": 4
// chains 3/8 g70 direct at half of 6,600". Where each holds is said with the
// corners.
func (p *page) tally(c *rules.Count) string {
	var out strings.Builder
	n := &p.w.Count
	list, sep := grouped(c.Lines), ": "
	for i, l := range list {
		noun, kind := p.w.noun(l.Tie.Material, l.Count), p.after(l.Tie)
		way, credit := n.Ways[l.Tie.Route], p.down(l.Credit)
		if l.Tie.Place.On != "" {
			way = filled(n.WaysOn[l.Tie.Route], "part", p.w.part(l.Tie.Place.On, c.Article.Parts))
		}
		phrase := n.Item
		switch {
		case !l.Usable:
			phrase = n.Blank
		case len(list) == 1 && l.Tie.Route == load.Over && l.Count == 1:
		case len(list) == 1 && l.Tie.Route == load.Over:
			phrase, credit = n.Each, p.down(l.WLL)
		case len(list) == 1:
			phrase, credit = n.HalfOf, p.down(l.WLL)
		case i > 0 && sameKind(&list[i-1].Tie, &l.Tie):
			phrase = n.Again
		}
		out.WriteString(sep)
		out.WriteString(filled(phrase, "n", strconv.Itoa(l.Count), "noun", noun, "kind", kind, "way", way, "credit", credit))
		sep = ", "
	}
	return out.String()
}

// grouped puts lines together that differ only by where they hold the article
// itself.
func grouped(lines []rules.Line) []rules.Line {
	if distinct(lines) {
		return lines
	}
	list := make([]rules.Line, 0, len(lines))
next:
	for _, l := range lines {
		for i := range list {
			if alike(&list[i], &l) {
				list[i].Count += l.Count
				list[i].Credit += l.Credit
				continue next
			}
		}
		list = append(list, l)
	}
	return list
}

// distinct says whether no two of the lines read alike.
func distinct(lines []rules.Line) bool {
	for i := range lines {
		for j := range i {
			if alike(&lines[i], &lines[j]) {
				return false
			}
		}
	}
	return true
}

// alike says whether two lines read alike in the count.
func alike(a, b *rules.Line) bool {
	return a.WLL == b.WLL && a.LimitedBy == b.LimitedBy && a.Usable == b.Usable &&
		a.Tie.Route == b.Tie.Route && a.Tie.Place.On == b.Tie.Place.On && sameKind(&a.Tie, &b.Tie)
}

// sameKind says whether two tie-downs are of the same material, size and grade.
func sameKind(a, b *load.TieDown) bool {
	return a.Material == b.Material && a.Size == b.Size && a.Grade == b.Grade && a.Make == b.Make && a.Marked() == b.Marked() && a.State.NoTag == b.State.NoTag
}

// binders says what becomes of the sum if the binders not told are the
// commonest weaker ones.
func (p *page) binders(c *rules.Count, asked bool) {
	if c.NoSum || c.Weaker >= c.Credit || !c.Article.Weight.Known() {
		return
	}
	w := &p.w.Count
	strong, weak := p.binderFigures(c.Lines)
	args := []string{"wll", p.w.list(strong), "weak", p.w.list(weak), "has", p.down(c.Weaker), "short", p.up(c.NeedHigh - c.Weaker)}
	switch {
	case c.Weaker >= c.NeedHigh:
		if c.Verdict == rules.VerdictCovered || c.Verdict == rules.VerdictFix {
			p.say(w.BinderToo, args...)
		}
	case c.Credit >= c.NeedHigh:
		read := w.ReadOne
		if asked {
			read = ""
		}
		p.say(w.BinderIf, append(args, "read", read)...)
	default:
		p.say(w.BinderShort+p.overInstead(c)+".", args...)
	}
}

// goodIf says on which binders it rests what an article of no weight told is good
// up to; "" where all is told.
func (p *page) goodIf(c *rules.Count) string {
	if c.Weaker >= c.Credit || c.Credit == 0 {
		return ""
	}
	strong, weak := p.binderFigures(c.Lines)
	low := c.GoodUpTo / c.Credit * c.Weaker // a whole multiple of the credit
	return filled(p.w.Count.GoodIf, "wll", p.w.list(strong), "weak", p.w.list(weak), "low", p.down(low))
}

// overInstead says how many over would mend the article with the weaker binders
// too, where the weight is all there is to mend.
func (p *page) overInstead(c *rules.Count) string {
	if len(c.Mends) == 0 || !p.weightAlone(c, &c.Mends[0]) {
		return ""
	}
	t := c.Mends[0].Tie
	each := rules.Credit(&t, p.lim).Weaker
	if each == 0 {
		return ""
	}
	return filled(p.w.Count.OverThen, "n", p.number(int(ceil(c.NeedHigh-c.Weaker, each))))
}

// binderFigures are the ratings that the binders not told are taken to have, and
// those of the commonest weaker ones, with the size they are on where there are
// several.
func (p *page) binderFigures(lines []rules.Line) (strong, weak []string) {
	var sizes []string
	for i := range lines {
		l := &lines[i]
		if l.Tie.Material != load.Chain || l.Tie.Tensioner.Rating > 0 || l.Tie.Tensioner.Label != "" {
			continue
		}
		f, ok := tables.WeakerBinder(l.Tie.Size)
		if l.Tie.Size == 0 {
			f, ok = tables.LeastWeakerBinder()
		}
		if ok && f.WLL < l.WLL {
			strong = append(strong, p.stampUp(l.WLL))
			weak = append(weak, p.stamp(f.WLL))
			sizes = append(sizes, p.w.size(l.Tie))
		}
	}
	if slices.ContainsFunc(weak, func(s string) bool { return s != weak[0] }) {
		for i, size := range sizes {
			strong[i] = filled(p.w.Count.OnSize, "wll", strong[i], "size", size)
			weak[i] = filled(p.w.Count.OnSize, "wll", weak[i], "size", size)
		}
	}
	return unique(strong), unique(weak)
}

// weakest names the part that limits a tie-down, where it is not its material,
// and of which it does where that is not so of all. Those limited alike are said
// together.
func (p *page) weakest(c *rules.Count) {
	list := grouped(c.Lines)
	type limit struct {
		phrase, part string
		wll          load.Mass
	}
	var limits []limit
	of := map[limit][]string{}
	for i := range list {
		l := &list[i]
		if l.LimitedBy == "" || l.LimitedBy == string(l.Tie.Material) || l.LimitedBy == "rope" {
			continue
		}
		by := limit{p.w.Count.Weakest, l.LimitedBy, l.WLL}
		if l.Tie.Tensioner.Rating == 0 && l.Tie.Tensioner.Label != "" && l.LimitedBy != "hook" && l.LimitedBy != "anchor" {
			by.phrase = p.w.Count.Labelled
		}
		if of[by] == nil {
			limits = append(limits, by)
		}
		of[by] = addNew(of[by], p.ofThose(c, l))
	}
	for _, by := range limits {
		which := p.w.Count.OfThose + p.w.list(of[by])
		if !slices.ContainsFunc(list, func(o rules.Line) bool { return o.WLL != by.wll || o.LimitedBy != by.part }) {
			which = ""
		}
		p.say(by.phrase, "part", word(p.w.Name.Limits, by.part), "wll", p.down(by.wll), "of", which)
	}
}

// marks says what the table gives for a chain whose mark disagrees with its grade.
func (p *page) marks(c *rules.Count) {
	for _, l := range grouped(c.Lines) {
		t := &l.Tie
		if t.Material != load.Chain || t.Marked() == 0 || t.Grade.Reading != load.Read {
			continue
		}
		if f, ok := figure(t); ok && f.WLL != t.Mark {
			p.say(p.w.Count.MarkDiffers, "what", p.w.full(*t), "mark", p.down(t.Mark), "table", p.down(f.WLL))
		}
	}
}

// ofThose names the tie-downs of a line by how they run: "the 4 direct".
func (p *page) ofThose(c *rules.Count, l *rules.Line) string {
	w := &p.w.Count
	way := w.Runs[l.Tie.Route]
	if l.Tie.Place.On != "" {
		way = filled(w.RunsOn, "part", p.w.part(l.Tie.Place.On, c.Article.Parts))
	}
	if slices.ContainsFunc(c.Lines, func(o rules.Line) bool {
		return o.Tie.Route == l.Tie.Route && o.Tie.Place.On == l.Tie.Place.On && (o.WLL != l.WLL || !sameKind(&o.Tie, &l.Tie))
	}) {
		way = " " + p.brief(l.Tie, l.Count) + way
	}
	return filled(w.Of, "n", p.number(l.Count), "way", way)
}

// sinks says which tie-downs' single loss would undo a load that is covered.
func (p *page) sinks(c *rules.Count) string {
	if len(c.Sinks) == 0 || !p.lose {
		return ""
	}
	n := &p.w.Count
	pieces, sink := 0, 0
	for i := range c.Lines {
		pieces += c.Lines[i].Count
	}
	var which []string
	for i := range c.Sinks {
		l := &c.Sinks[i]
		sink += len(l.IDs)
		if at := l.Tie.Place; at.End != "" && at.Side != "" && !anyCorner(c, l) && slices.ContainsFunc(c.Sinks, func(o rules.Line) bool {
			return o.Tie.Material == l.Tie.Material && anyCorner(c, &o)
		}) {
			continue // it is a corner like the others
		}
		which = addNew(which, p.oneOf(c, l))
	}
	if sink == pieces {
		return n.LoseAny
	}
	return filled(n.Lose, "which", p.w.either(which))
}

// oneOf names one of a line's tie-downs: "a corner chain", "the front left chain".
func (p *page) oneOf(c *rules.Count, l *rules.Line) string {
	n, noun := &p.w.Name, p.w.noun(l.Tie.Material, 1)
	at := placeOf(c, l)
	switch {
	case at.On != "":
		return filled(n.TheOn, "noun", noun, "part", p.w.part(at.On, c.Article.Parts))
	case anyCorner(c, l):
		return filled(n.AnyCorner, "noun", noun)
	case at.End != "" || at.Side != "":
		if len(l.IDs) > 1 {
			return filled(n.AnyAt, "noun", noun, "place", p.w.place(at, nil))
		}
		return filled(n.TheAt, "noun", noun, "place", p.w.place(at, nil))
	case at.Spread == "ends":
		return filled(n.AnyEnd, "noun", noun)
	}
	return filled(n.Any, "kind", p.brief(l.Tie, 1))
}

// anyCorner says whether any of a line's tie-downs may be meant by "a corner".
func anyCorner(c *rules.Count, l *rules.Line) bool {
	at := placeOf(c, l)
	return at.On == "" && (at.Spread == "corners" || at.End != "" && at.Side != "" && len(l.IDs) > 1)
}

// placeOf is where a line holds; told nowhere, where it is taken to hold.
func placeOf(c *rules.Count, l *rules.Line) load.Place {
	if l.Tie.Place != (load.Place{}) {
		return l.Tie.Place
	}
	for i := range c.Assumed {
		a := &c.Assumed[i]
		spread := map[string]string{rules.CodeOnePerCorner: "corners", rules.CodeOnePerEnd: "ends"}[a.Code]
		if spread == "" {
			continue
		}
		for _, id := range a.IDs {
			if len(l.IDs) > 0 && id == l.IDs[0] {
				return load.Place{Spread: spread}
			}
		}
	}
	return load.Place{}
}
