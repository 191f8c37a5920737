package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// remark adds the advice that goes with the count.
func (s *sheet) remark() {
	w := &s.art.Weight
	if c := &s.scope.corners; c.applies && c.outcome == Met {
		if f, r := s.places.filled(); min(f, r) == 1 {
			s.remarks = append(s.remarks, Remark{Code: RemarkThreeAndOne})
		}
	}
	if s.heavy == load.Yes && s.lim.LeastHold == 0 {
		s.remarkTies(RemarkUnder5000, func(g *group) bool {
			return g.itself() && g.in.WLL > 0 && g.in.WLL < s.lim.Under5000
		})
	}
	if s.own.rule == ruleLogs {
		s.remarkTies(RemarkUnder4000, func(g *group) bool {
			return g.in.WLL > 0 && g.in.WLL < s.lim.Cargo.LogsLeast
		})
	}
	if s.scope.number.reason == reasonSpecial {
		s.remarks = append(s.remarks, Remark{Code: RemarkSpecial})
	}
	if s.class != tables.ClassCargo && w.Told >= s.lim.NearLine && w.Told < s.lim.Heavy {
		s.remarks = append(s.remarks, Remark{Code: RemarkNearLine})
	}
	if !s.lim.Unmarked {
		s.remarkTies(RemarkMarked, func(*group) bool { return true })
	}
	s.remarkTies(RemarkEdgeGuard, s.overEdges)
	s.remarkTies(RemarkHookNotGrade, func(g *group) bool {
		t := g.tie
		return t.Material == load.Chain && (t.Hook > 0 || t.HookStamp.Grade != "") && t.Marked() == 0 && (t.Grade.Reading == load.NotRead || t.Grade.Reading == load.NoMarks)
	})
	if len(s.tooMuch) > 0 {
		s.remarks = append(s.remarks, Remark{Code: RemarkTooMuch, IDs: s.tooMuch})
	}
	if w.Low != w.High {
		s.remarks = append(s.remarks, Remark{Code: RemarkWeighIt})
	}
}

// overEdges says whether g is a strap or rope that runs over or through the
// article, where it can bear on steel (49 CFR 393.104(f)). Told without a guard
// it is to be mended, not advised.
func (s *sheet) overEdges(g *group) bool {
	return s.bearsOnEdges(g) && !g.tie.State.NoGuard && g.tie.State.Guarded != load.Yes
}

// bearsOnEdges says whether g is a strap or rope over or through the article.
func (s *sheet) bearsOnEdges(g *group) bool {
	t := g.tie
	if s.class == tables.ClassCargo || t.Material != load.Webbing && t.Material != load.Cordage {
		return false
	}
	return t.Route == load.Over || t.Route == load.SameSide || t.Route == load.Lengthwise
}

// remarkTies adds a remark on the tie-downs that count and fit.
func (s *sheet) remarkTies(code string, fits func(*group) bool) {
	var ids []int
	for i := range s.groups {
		if g := &s.groups[i]; g.cond.fate == counts && fits(g) {
			ids = append(ids, g.ids...)
		}
	}
	if len(ids) > 0 {
		s.remarks = append(s.remarks, Remark{Code: code, IDs: ids})
	}
}

// remarkPart adds a remark on an accessory.
func (s *sheet) remarkPart(code, part string) {
	s.remarks = append(s.remarks, Remark{Code: code, Part: part})
}
