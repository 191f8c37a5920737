package rules

// logs asks at least two tie-downs on each stack of logs (49 CFR 393.116): how
// many stacks there are is asked. Lengthwise their credits must reach a sixth of
// a stack's weight, not half; aggregate asks that.
//
// It does not lower the two to one for a stack blocked at both ends, nor reckon
// logs on a pole trailer, and it sees no bunk, stake or crown: those are the
// section's checks by eye. Banded logs ride by the general rules.
func logs(s *sheet) {
	if s.own.rule != ruleLogs {
		return
	}
	each := s.lim.Cargo.LogsTies
	fewest, most := each, many
	if n := s.art.Cargo.Stacks; n > 0 {
		fewest, most = each*n, each*n
	}
	s.findSection(s.countOf(anyTie).settle(fewest, most, AskStacks, reasonStacks))
}
