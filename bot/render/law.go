package render

import (
	"strconv"

	"halfweight/rules"
)

// inForce tells whose rules are in force, and the crew's own.
func (p *page) inForce(house []rules.House) {
	for _, line := range p.law.InForce {
		p.line(line)
	}
	p.houseRules(house)
}

// houseRules lists the crew's own rules.
func (p *page) houseRules(house []rules.House) {
	if len(house) == 0 {
		p.line(p.w.House.None)
		return
	}
	p.line(p.w.House.List)
	for i, h := range house {
		p.line(p.w.House.One, "n", strconv.Itoa(i+1), "rule", p.houseRule(h))
	}
}

// houseRule is one of the crew's own rules in words.
func (p *page) houseRule(h rules.House) string {
	return p.filled(p.w.House.Rules[h.Kind], "n", strconv.Itoa(max(h.Percent, h.Count)), "mass", p.up(h.Mass), "unit", p.word)
}
