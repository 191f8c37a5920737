package rules

// weight asks what the article weighs: half of it is what the tie-downs must
// cover (49 CFR 393.106(d)). A weight told loosely is told; what differs between
// its two ends is left untold by the rules that compare with it.
//
// It does not know weights of machines by model, and guesses none.
func weight(s *sheet) {
	f := Finding{Rule: "weight", Outcome: Met, Reason: "told"}
	w := &s.art.Weight
	switch {
	case !w.Known():
		f.Outcome, f.Reason, f.Ask = Untold, reasonNoWeight, AskWeight
	case s.art.FromGear:
		f.Reason = "from gear"
	case w.Low != w.High:
		f.Reason = "told loosely"
	}
	if w.Ton {
		s.assume(CodeShortTon, "")
	}
	if s.art.FromGear {
		s.assume(CodeFromGear, "")
	}
	s.find(f)
}
