package rules

// Reasons of rating.
const (
	reasonRated   = "rated"
	reasonWeak    = "rated less"
	reasonUnrated = "rating not told"
)

// rating asks of a heavy machine that each of the tie-downs that hold its
// corners be rated no less than a figure (NSC Standard 10 s.89: 2,268 kg; a
// crew's own rule). The federal section asks no such figure: there it is the
// remark under-5000. Tie-downs beyond the four may be rated less.
func rating(s *sheet) {
	least := s.lim.LeastHold
	a := &s.scope.corners
	if least == 0 || !a.applies || a.outcome != Met {
		return // what holds the corners is not settled: corners asks
	}
	f := Finding{Rule: "rating", Want: a.want}
	sure := s.tallyOf(func(g *group) bool { return g.in.WLL >= least })
	may := s.tallyOf(func(g *group) bool { return g.in.WLL >= least || g.in.doubt&^noRoute != 0 })
	st := sure.against(a.want, s.lim.EachEnd)
	f.Have = st.have
	switch {
	case st.outcome == Met:
		f.Outcome, f.Reason = Met, reasonRated
	default:
		if open := may.against(a.want, s.lim.EachEnd); open.outcome == Short {
			f.Outcome, f.Reason = Short, reasonWeak
			break
		}
		f.Reason, f.Ask = reasonUnrated, s.unratedQuestion()
	}
	s.find(f)
	s.demands = append(s.demands, Demand{Rule: f.Rule, Rating: least, Number: a.want})
}

// unratedQuestion is what would tell the rating of the first tie-down whose
// rating is open.
func (s *sheet) unratedQuestion() string {
	for i := range s.groups {
		if g := &s.groups[i]; g.cond.fate == counts && g.itself() && g.in.doubt&^noRoute != 0 {
			return g.question()
		}
	}
	return AskTag
}
