package talk

import (
	"errors"
	"slices"

	"halfweight/parser"
	"halfweight/rules"
)

// law is the set in force without the crew's own rules.
func (s *State) law() rules.Set { return rules.Named(s.Rules) }

// set is the set in force, tightened by the crew's own rules.
func (s *State) set() rules.Set { return s.law().With(s.House...) }

// rulesOf puts another set in force, or tells which one is.
func (t *turn) rulesOf(name string) {
	if name == "" {
		t.answered = true
		t.say(InForce{})
		return
	}
	t.did = true
	if t.s.Rules = name; name == rules.Federal.Name {
		t.s.Rules = ""
	}
	t.inForce()
	t.say(Done{What: "rules", Words: name})
}

// inForce takes up the set that the state names now.
func (t *turn) inForce() {
	t.set = t.s.set()
	t.r.Rules, t.r.House = t.s.Rules, t.s.House
}

// houseRule keeps a rule of the crew's own, drops one, or shows them.
func (t *turn) houseRule(h *parser.HouseRule) {
	switch h.Do {
	case "show":
		t.answered = true
		t.say(InForce{})
	case "drop":
		t.dropHouse(h.Count)
	case "add":
		t.addHouse(rules.House{Kind: h.Kind, Percent: h.Percent, Count: h.Count, Mass: h.Mass})
	default:
		t.answered = true
		t.cannot("house which")
	}
}

// addHouse keeps a rule in the place of one of its kind. One that would loosen
// what is in force is refused.
func (t *turn) addHouse(h rules.House) {
	switch err := t.s.law().Tightens(h); {
	case errors.Is(err, rules.ErrLoosens):
		t.answered = true
		t.cannot("house loosens")
	case err != nil:
		t.answered = true
		t.cannot("house reach")
	default:
		list := slices.DeleteFunc(slices.Clone(t.s.House), func(o rules.House) bool { return o.Kind == h.Kind })
		t.s.House = append(list, h)
		t.did = true
		t.inForce()
		t.say(Done{What: "house"})
	}
}

// dropHouse drops the n-th of the crew's own rules, all of them for 0.
func (t *turn) dropHouse(n int) {
	if n > len(t.s.House) || len(t.s.House) == 0 {
		t.answered = true
		t.cannot("house none")
		return
	}
	t.did = true
	if n == 0 {
		t.s.House = nil
	} else {
		t.s.House = slices.Delete(slices.Clone(t.s.House), n-1, n)
	}
	t.inForce()
	t.say(Done{What: "house"})
}

// byLaw is how the load stands without the crew's own rules, where those alone
// leave it short; "" where they do not.
func (t *turn) byLaw(report *rules.Report) rules.Verdict {
	if len(t.s.House) == 0 || report.Verdict != rules.VerdictShort {
		return ""
	}
	if v := rules.Evaluate(t.load, t.s.law()).Verdict; v != rules.VerdictShort {
		return v
	}
	return ""
}
