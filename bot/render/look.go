package render

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/bot/talk"
	"halfweight/rules"
	"halfweight/rules/load"
)

// said is something taken for granted, or a remark, in words.
type said struct{ code, look, say string }

// taken lists what was taken for granted, each code of the report once.
func (p *page) taken(r talk.Reply) []said {
	list := make([]said, 0, 8)
	for i := range r.Assumed {
		a := &r.Assumed[i]
		tie := load.TieDown{}
		if a.Tie != nil {
			tie = *a.Tie
		}
		w := p.w.Assumptions[a.Code]
		args := []string{"weight", p.near(a.Mass), "unit", p.word, "kind", p.brief(tie, a.Count), "n", strconv.Itoa(a.Count)}
		list = append(list, said{a.Code, filled(w.Look, args...), filled(w.Say, args...)})
	}
	if r.Report == nil {
		return list
	}
	for i := range r.Report.Articles {
		for j := range r.Report.Articles[i].Assumed {
			code := r.Report.Articles[i].Assumed[j].Code
			if has(list, code) {
				continue // said with the one before
			}
			w := p.w.Assumptions[code]
			list = append(list, said{code, p.assumed(r.Report, code, w.Look), capital(p.assumed(r.Report, code, w.Say))})
		}
	}
	return list
}

// assumed fills the words of an assumption from all that is assumed by that code.
func (p *page) assumed(r *rules.Report, code, phrase string) string {
	if !strings.Contains(phrase, "{") {
		return phrase
	}
	var room [128]byte
	return string(expand(room[:0], phrase, func(name string) string {
		var list []string
		noun := ""
		for i := range r.Articles {
			c := &r.Articles[i]
			for j := range c.Assumed {
				a := &c.Assumed[j]
				if a.Code != code {
					continue
				}
				switch {
				case name == "itself", name == "listed" && a.IDs == nil:
					list = addNew(list, p.name(c))
				case name == "ton":
					list = addNew(list, p.near(c.Article.Weight.Low))
				case name == "tonne":
					list = addNew(list, p.near(c.Article.Weight.High))
				case name == "part" && a.Part != "":
					list = addNew(list, p.w.part(a.Part, c.Article.Parts))
				}
				for _, t := range tiesOf(c, a.IDs) {
					switch name {
					case "noun":
						noun = p.w.noun(t.Material, 1)
					case "nouns":
						noun = p.w.noun(t.Material, 2)
					case "part":
						if t.Place.On != "" {
							list = addNew(list, p.w.part(t.Place.On, c.Article.Parts))
						}
					case "listed":
						list = addNew(list, p.brief(*t, 2))
					case "stamps":
						list = p.stamps(list, t)
					case "tensioner":
						if word := p.w.Name.Tensioner[t.Material]; word != "" {
							list = addNew(list, word)
						}
					}
				}
			}
		}
		switch name {
		case "noun", "nouns":
			return noun
		case "unit":
			return p.word
		case "tensioner":
			return p.w.either(list)
		case "itself":
			return p.self(list)
		}
		return p.w.list(list)
	}))
}

// tiesOf is one tie-down of each line that holds some of the ids, what is set
// aside too.
func tiesOf(c *rules.Count, ids []int) []*load.TieDown {
	list := make([]*load.TieDown, 0, 8)
	for i := range c.Lines {
		if about(&c.Lines[i], ids) {
			list = append(list, &c.Lines[i].Tie)
		}
	}
	for i := range c.SetAside {
		if about(&c.SetAside[i].Line, ids) {
			list = append(list, &c.SetAside[i].Tie)
		}
	}
	return list
}

// about says whether a line holds any of the tie-downs.
func about(l *rules.Line, ids []int) bool {
	return slices.ContainsFunc(l.IDs, func(id int) bool { return slices.Contains(ids, id) })
}

// stamps adds the parts of a tie-down whose stamp is still to be read.
func (p *page) stamps(list []string, t *load.TieDown) []string {
	if t.Tensioner.Rating == 0 && p.w.Name.Tensioner[t.Material] != "" {
		list = addNew(list, p.w.Name.Tensioner[t.Material])
	}
	if t.Hook == 0 {
		list = addNew(list, p.w.Name.Hook)
	}
	if t.Anchor == 0 {
		list = addNew(list, p.w.Name.Ring)
	}
	return list
}

// lookOrder is the order in which things are to be looked at: first what the
// count may be wrong by, then the walk round, then the stamps.
var lookOrder = []string{
	"pounds", rules.CodeShortTon, rules.CodeCountOne, rules.CodeGrade30, rules.CodeLesserAlloy, rules.CodeHalfCredit,
	rules.CodeFromGear, "fewer-in-gear",
	rules.CodeOnePerCorner, rules.CodeOnePerEnd, rules.CodeOnTheMachine, rules.CodeTensionerThere, rules.CodeSound,
	rules.CodeDown, rules.CodeLockIsBar, rules.CodeOtherStowed, rules.CodeAccessoryCounted,
	rules.CodePartsNotWeaker, rules.CodeTableRow,
}

// look lists what was taken for granted as things to go and look at, then the
// remarks.
func (p *page) look(r talk.Reply) {
	p.turn()
	taken := slices.Clone(p.took)
	slices.SortStableFunc(taken, func(a, b said) int {
		return slices.Index(lookOrder, a.code) - slices.Index(lookOrder, b.code)
	})
	itself, ton := p.itself(r), false
	var things []string
	for _, s := range taken {
		switch s.code {
		case rules.CodeShortTon:
			ton = true
		case rules.CodeTensionerThere:
			if has(taken, rules.CodePartsNotWeaker) {
				continue // looked at with its stamp
			}
		case rules.CodeOnePerCorner, rules.CodeOnePerEnd, rules.CodeOnTheMachine:
			things = append(things, itself...)
			itself = nil // said together
			continue
		}
		if s.look != "" {
			things = append(things, s.look)
		}
	}
	remarked := p.remarked(r)
	if has(remarked, rules.RemarkEdgeGuard) {
		things = append(things, p.w.Look.EdgeGuard)
	}
	if len(things) > 0 {
		p.say(p.w.Look.Go, "list", strings.Join(things, "; "))
	}
	for _, s := range remarked {
		switch {
		case s.code == rules.RemarkUnder5000, s.code == rules.RemarkEdgeGuard:
			continue // said with the count, or in the list
		case s.code == rules.RemarkWeighIt && (ton || r.Ask != nil && (r.Ask.Key == rules.AskPlate || r.Ask.Key == rules.AskWeight)):
			continue // asked, or listed
		}
		p.say(s.say)
	}
	p.turn()
}

func has(list []said, code string) bool {
	return slices.ContainsFunc(list, func(s said) bool { return s.code == code })
}

// itself says of which articles it was taken that what holds them is hooked to
// the article itself, and how it is spread: "one on each corner of the roller
// itself".
func (p *page) itself(r talk.Reply) []string {
	if r.Report == nil {
		return nil
	}
	ways := []struct{ code, say string }{
		{rules.CodeOnePerCorner, p.w.Look.Corners}, {rules.CodeOnePerEnd, p.w.Look.Ends}, {rules.CodeOnTheMachine, p.w.Look.Hooked},
	}
	names := make([][]string, len(ways))
	for i := range r.Report.Articles {
		c := &r.Report.Articles[i]
		for j := range ways {
			if slices.ContainsFunc(c.Assumed, func(a rules.Assumption) bool { return a.Code == ways[j].code }) {
				names[j] = addNew(names[j], p.name(c))
				break
			}
		}
	}
	var list []string
	for j := range ways {
		if len(names[j]) > 0 {
			list = append(list, filled(ways[j].say, "itself", p.self(names[j])))
		}
	}
	return list
}

// self names articles as opposed to parts of them: "the roller itself".
func (p *page) self(names []string) string {
	if len(names) > 1 {
		return filled(p.w.Look.Selves, "name", p.w.list(names))
	}
	return filled(p.w.Look.Self, "name", p.w.list(names))
}

// remarked lists the remarks, each once.
func (p *page) remarked(r talk.Reply) []said {
	var list []said
	if r.Report == nil {
		return nil
	}
	for i := range r.Report.Articles {
		c := &r.Report.Articles[i]
	next:
		for _, m := range c.Remarks {
			s := said{code: m.Code, say: p.filled(p.w.Remarks[m.Code], "part", p.w.part(m.Part, c.Article.Parts))}
			for _, have := range list {
				if have == s {
					continue next
				}
			}
			list = append(list, s)
		}
	}
	return list
}
