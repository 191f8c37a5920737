package talk

import (
	"slices"

	"halfweight/rules"
	"halfweight/rules/load"
)

// twice is how often the same thing is asked at most.
const twice = 2

// order is which open question is asked first: what nothing can be counted
// without, then what is worst if it is wrong, then what would lift the count.
var order = [...]string{
	rules.AskTies, rules.AskSize, rules.AskWeight, rules.AskKind, rules.AskWheels,
	rules.AskTied, rules.AskLatched, rules.AskLock, rules.AskOtherLock, rules.AskJoint, rules.AskAcross,
	rules.AskLocks, rules.AskRear, rules.AskEmpty, rules.AskAlone, rules.AskPieces, rules.AskStacks, rules.AskWalls, rules.AskTiers,
	rules.AskCount, rules.AskPlace, rules.AskTensioner, rules.AskGuard, rules.AskShared, rules.AskTogether,
	rules.AskLies, rules.AskShape, rules.AskBore, rules.AskChocks, rules.AskTouching,
	rules.AskLength, rules.AskRow, rules.AskBlocked, rules.AskSpecial,
	rules.AskGrade, rules.AskTag, rules.AskRoute, rules.AskChain, rules.AskPlate, rules.AskBinder,
	rules.AskEye, rules.AskHoist,
}

// options are the answers in a word that a question takes: keys of an answer, or
// words as they are typed.
var options = map[string][]string{
	rules.AskWheels:    {"yes", "no"},
	rules.AskGrade:     {"70", "80", "no marks"},
	rules.AskRoute:     {"direct", "over"},
	rules.AskTensioner: {"yes", "no"},
	rules.AskGuard:     {"yes", "no"},
	rules.AskBlocked:   {"yes", "no"},
	rules.AskTied:      {"yes", "no", "unknown"},
	rules.AskLatched:   {"locked", "tied", "no"},
	rules.AskLock:      {"yes", "no", "unknown"},
	rules.AskOtherLock: {"yes", "no", "unknown"},
	rules.AskJoint:     {"locked", "not locked", "unknown"},
	rules.AskAcross:    {"yes", "no"},

	rules.AskChocks:   {"yes", "no"},
	rules.AskTouching: {"yes", "no"},
	rules.AskSpecial:  {"yes", "no"},
	rules.AskLies:     {"eye up", "crosswise", "lengthwise"},
	rules.AskShape:    {"cubic", "flat bottom", "unstable"},
	rules.AskEmpty:    {"loaded", "empty"},
	rules.AskWalls:    {"no walls", "walls on two sides", "walls on three sides", "walls on four sides"},
	rules.AskLocks:    {"yes", "no"},
	rules.AskRear:     {"yes", "no"},
	rules.AskHoist:    {"yes", "no"},
	rules.AskEye:      {"yes", "no"},
}

// question picks the one question to ask: which tie-down was meant, then the
// measure of a damage, then what is open in the article that stands worst.
func (t *turn) question(r *rules.Report, event string) {
	if t.taken == nil && t.stillWhich() {
		t.taken = t.s.Which
	}
	t.s.Which = t.taken
	var q *Question
	if t.taken != nil {
		if q = t.whichQuestion(); t.tries(q) >= twice {
			if q = nil; t.taken.Tag != "" {
				t.taken, t.s.Which = nil, nil // asked often enough: it is not on
			}
		}
	}
	if q == nil {
		q = t.openMeasure(r)
	}
	if q == nil {
		q = t.openFinding(r)
	}
	if q != nil && len(r.Articles) > 1 {
		for i := range r.Articles {
			if a := r.Articles[i].Article; a.ID == q.Article {
				q.Name = a.Name
			}
		}
	}
	t.s.Asked, t.r.Ask = q, q
	if q != nil {
		q.Event = event
		q.Asked = t.tries(q)
		t.tried(q, q.Asked+1)
	}
}

// openMeasure asks the measure of a damage that was told without one.
func (t *turn) openMeasure(r *rules.Report) *Question {
	for i := range r.Articles {
		c := &r.Articles[i]
		for j := range c.SetAside {
			a := &c.SetAside[j]
			q := &Question{Article: c.Article.ID, IDs: a.IDs}
			switch a.Settle {
			case "", "which article", "damage":
				continue
			case repairLink:
				q.Key, q.Subject, q.Options = rules.AskDamage, a.Settle, []string{"yes", "no", "unknown"}
			case "width", "size":
				q.Key = rules.AskSize
			case "grade":
				q.Key, q.Options = rules.AskGrade, options[rules.AskGrade]
			default:
				q.Key, q.Subject = rules.AskDamage, a.Settle
			}
			if t.tries(q) < twice {
				return q
			}
		}
	}
	return nil
}

// openFinding asks what would settle the finding that comes first in order.
func (t *turn) openFinding(r *rules.Report) *Question {
	var best *Question
	first := len(order)
	for _, verdict := range [...]rules.Verdict{rules.VerdictUnsettled, rules.VerdictShort} {
		for i := range r.Articles {
			c := &r.Articles[i]
			if c.Verdict != verdict {
				continue
			}
			for j := range c.Findings {
				f := &c.Findings[j]
				if f.Outcome != rules.Untold || f.Ask == "" || f.Ask == rules.AskEye && verdict == rules.VerdictShort {
					continue
				}
				n := rank(f.Ask, c.Article)
				if n < 0 || n >= first {
					continue
				}
				q := &Question{
					Key: f.Ask, Article: c.Article.ID, Subject: f.Subject, Part: f.Part,
					IDs: lackingFor(f.Ask, c.Article), Options: options[f.Ask],
				}
				switch f.Ask {
				case rules.AskLies:
					if c.Article.Kind == "log" {
						q.Options = []string{"crosswise", "lengthwise"}
					}
				case rules.AskChain:
					q.Part, q.Subject = undescribed(c.Article)
				case rules.AskShared:
					for k := range r.Articles {
						q.Options = append(q.Options, r.Articles[k].Article.Name)
					}
				}
				if t.tries(q) < twice {
					best, first = q, n
				}
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// rank is where a question stands in the order. Of a noun that is not known it
// is asked first whether it is on wheels or tracks: that is a word, and without
// them nothing else is asked.
func rank(key string, a *load.Article) int {
	switch {
	case key == rules.AskWheels && a.Name != "":
		key = rules.AskKind
	case key == rules.AskKind && a.Name != "" && a.OnWheels == load.Untold && !vague(a.Kind):
		key = rules.AskWheels
	}
	return slices.Index(order[:], key)
}

// undescribed is the first part told tied by a tie-down that no one described.
func undescribed(a *load.Article) (key, word string) {
	for i := range a.Parts {
		p := &a.Parts[i]
		if p.Tied == load.Yes && !slices.ContainsFunc(a.Ties, func(x load.TieDown) bool { return x.Place.On == p.Name }) {
			return p.Name, p.Word
		}
	}
	return "", ""
}

// lackingFor are the tie-downs of an article that a question is about: those on
// that lack what it asks.
func lackingFor(key string, a *load.Article) []int {
	var list []int
	line := 0
	for i := range a.Ties {
		x := &a.Ties[i]
		if x.State.Gone != "" || !lacksAnswer(key, x) || key == rules.AskCount && len(list) > 0 && x.Line != line {
			continue // one number answers for one clause
		}
		line = x.Line
		list = append(list, x.ID)
	}
	return list
}

func lacksAnswer(key string, x *load.TieDown) bool {
	switch key {
	case rules.AskSize:
		return x.Size == 0 && x.Mark == 0
	case rules.AskTag:
		return x.Size > 0 && x.Mark == 0 && rules.Credit(x, rules.Federal.Limits()).WLL == 0
	case rules.AskGrade:
		return x.Material == load.Chain && x.Mark == 0 && (x.Grade.Reading == load.NotRead || x.Grade.Reading == load.Alloy)
	case rules.AskBinder:
		return x.Material == load.Chain && x.Tensioner.Rating == 0
	case rules.AskRoute:
		return x.Route == ""
	case rules.AskPlace:
		return x.Place.On == "" && x.Place.End == "" && x.Place.Spread == ""
	case rules.AskTensioner:
		return x.Tensioner.Has == load.Untold && x.Material != load.SteelStrap
	case rules.AskGuard:
		return (x.Material == load.Webbing || x.Material == load.Cordage) && x.State.Guarded == load.Untold
	case rules.AskCount:
		return x.Plural
	case rules.AskShared:
		return x.Shared
	case rules.AskAcross:
		return x.Place.On == "" && (x.Place.End == "middle" || x.Place == (load.Place{}) && x.Route != load.Direct)
	}
	return false
}

// tries is how often a question was asked of this load.
func (t *turn) tries(q *Question) int {
	for i := range t.s.Tries {
		if x := &t.s.Tries[i]; x.Key == q.Key && x.Article == q.Article && x.Part == q.Part {
			return x.N
		}
	}
	return 0
}

// tried notes that a question was asked n times by now.
func (t *turn) tried(q *Question, n int) {
	tries := slices.DeleteFunc(slices.Clone(t.s.Tries), func(x Try) bool {
		return x.Key == q.Key && x.Article == q.Article && x.Part == q.Part
	})
	t.s.Tries = append(tries, Try{Key: q.Key, Article: q.Article, Part: q.Part, N: n})
}
