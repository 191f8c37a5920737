package talk

// stepKeyword obeys a carrier's word: after "stop" nothing is said to this chat,
// and nothing it sends is counted, until "start".
func stepKeyword(s State, e Event) (State, Reply) {
	r := Reply{Text: e.Text, Verdict: verdictDone, Rules: s.Rules, House: s.House, Units: s.units()}
	was := s.Quiet
	switch e.Keyword {
	case "stop":
		s.Quiet = true
		r.Silent = was // told once
		r.Says = []Say{Done{What: "quiet"}}
	case "start":
		s.Quiet = false
		r.Says = []Say{Done{What: "speaks"}}
	case "help":
		r.Verdict = verdictAnswer
		r.Says = []Say{Help{Short: true}}
		r.Silent = was
	default:
		r.Silent = true
	}
	s.V = version
	return s, r
}
