package parser

// unsureMeasure takes a measure told with a doubt behind the condition ("cut 1/4 i
// think", "nicked, about a quarter inch"), and the words that go with it: it
// measures nothing. One told without is in the word for the hurt already
// (foldHurts).
func (r *reader) unsureMeasure(c *condition, k int) bool {
	hurt := c.what.in(kDamage, kTail)
	if hurt && r.t(c.at).hurt != nil {
		return false
	}
	switch t := r.t(k); t.kind {
	case kSize:
		told := c.before.told || c.after.told || c.before.fitting
		return hurt && (gash(r.t(c.at).word) || r.kindAt(k-1).in(kTo, kTail)) && (told || !r.kindAt(k+1).in(kMat, kGrade))
	case kNum:
		_, _, small := r.measureOfHurt(k)
		return hurt && small
	case kEach:
		return t.raw != "per"
	case kSpread:
		return t.word == "ends"
	case kDoubt, kTail, kTo:
		return true
	}
	return false
}

// gash says whether a damage of that word is measured by its own size; of
// others only what is left can be told.
func gash(word string) bool {
	switch word {
	case "cut", "nicked", "burned", "hole", "frayed", "gouged":
		return true
	}
	return false
}
