package rules

// corners asks of a machine or vehicle of 10,000 lb (4,536 kg) or more at least
// four tie-downs that hold the machine itself, as close as can be to its front
// and rear or at the points its maker made for them (49 CFR 393.130(c)). One on
// an accessory, on the joint or in the middle is none of the four: 393.130(b)
// is asked besides. Direct ones with no place told are taken one per corner,
// filling the ends that lack; over and same-side ones with no place are asked.
// Three at one end and one at the other is met (two and two is practice).
//
// It does not ask 5,000 lb of each of the four: the federal handbook does, the
// section does not (remark under-5000). It does not see whether a point was
// made for tying down, nor angles.
func corners(s *sheet) {
	a := &s.scope.corners
	if !a.applies {
		return
	}
	s.findPlaces("corners", a, codeOnePerCorner)
}

// findPlaces lists corners or ends.
func (s *sheet) findPlaces(rule string, a *asked, code codes) {
	if a.outcome == Met {
		s.took(a, code)
	}
	s.find(Finding{
		Rule: rule, Outcome: a.outcome, Reason: a.reason,
		Have: a.have, Want: a.want, Ask: a.ask,
	})
	s.demands = append(s.demands, Demand{
		Rule: rule, Front: s.lim.EachEnd, Rear: s.lim.EachEnd, Ends: a.want,
		Have: Have{Front: s.places.front, Rear: s.places.rear, Free: s.places.assumed},
	})
}
