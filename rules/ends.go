package rules

// ends asks of a machine or vehicle below 10,000 lb (4,536 kg), and of a car,
// light truck or van of exactly that, at least two tie-downs, one or more at
// the front and one or more at the rear (49 CFR 393.128(b)(1); 393.130(a) lets
// lighter machines ride by it). Two direct ones with no place told are taken one
// per end.
//
// It does not ask for the mounting points of 393.128(b)(2), nor how a strap over
// a wheel must hold ((b)(3)). A lighter machine may also ride by 393.110 or by
// 393.130: that choice is not offered.
func ends(s *sheet) {
	a := &s.scope.ends
	if !a.applies {
		return
	}
	s.findPlaces("ends", a, codeOnePerEnd)
}
