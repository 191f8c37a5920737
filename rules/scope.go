package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// scope says which of corners, ends and number are asked of the article, and
// how each ends. More than one is asked where what would tell them apart is not
// told: the weight, or wheels and tracks.
type scope struct {
	corners, ends, number asked
}

// asked is one of the three rules that ask for a number of tie-downs.
type asked struct {
	applies bool
	stand
	want int
}

// settleScope decides which of the three apply and how they end. Where several
// could, each is untold unless all are met; it is short only where all are, or,
// between corners and ends, where there are fewer than two tie-downs for any.
func (s *sheet) settleScope() scope {
	var sc scope
	onWheels := s.class != tables.ClassCargo
	if onWheels {
		sc = s.placesAsked()
	}
	if (s.class == tables.ClassCargo || s.class == tables.ClassUnknown) && s.byLength() {
		sc.number = s.numberAsked()
	}
	if s.class == tables.ClassUnknown {
		together(reasonNoWheels, AskWheels, false, &sc.corners, &sc.ends, &sc.number)
	}
	for _, a := range [...]*asked{&sc.corners, &sc.ends, &sc.number} {
		if a.applies && len(s.art.Ties) == 0 {
			a.stand = noTies(s.art)
		}
	}
	return sc
}

// noTies is how a rule ends that asks for tie-downs when none was told: untold,
// save where it was told that nothing is on.
func noTies(a *load.Article) stand {
	if a.Bare {
		return stand{outcome: Short, reason: reasonBare}
	}
	return stand{reason: reasonNoTies, ask: AskTies}
}

// placesAsked settles corners and ends of an article on wheels or tracks. Where
// its weight is not told, the likely one of the two is listed.
func (s *sheet) placesAsked() scope {
	c := asked{applies: true, want: s.lim.Corners, stand: s.places.against(s.lim.Corners, s.lim.EachEnd)}
	e := asked{applies: true, want: s.lim.Ends, stand: s.places.against(s.lim.Ends, s.lim.EachEnd)}
	switch {
	case !s.art.Weight.Known():
		few := e.outcome == Short && e.reason == reasonFew
		likely := &c
		if s.class == tables.ClassVehicle {
			likely = &e
		}
		likely.outcome, likely.reason, likely.ask = Untold, reasonNoWeight, AskWeight
		if few {
			likely.outcome, likely.reason, likely.ask = Short, reasonFew, ""
		}
		if likely == &c {
			return scope{corners: c}
		}
		return scope{ends: e}
	case s.heavy == load.Yes:
		return scope{corners: c}
	case s.heavy == load.No:
		return scope{ends: e}
	}
	ask := AskPlate
	if s.art.Weight.Low == s.art.Weight.High {
		ask = AskKind // exactly the line: a car may still ride by ends
	}
	together(reasonNearLine, ask, true, &c, &e)
	return scope{corners: c, ends: e}
}

// together settles rules of which only one is asked in truth, but which one is
// not told. With few, only too few for any of them is short.
func together(reason, ask string, few bool, rules ...*asked) {
	met, short, n := 0, 0, 0
	for _, r := range rules {
		switch {
		case !r.applies:
			continue
		case r.outcome == Met:
			met++
		case r.outcome == Short && (!few || r.reason == reasonFew):
			short++
		}
		n++
	}
	if met == n || short == n {
		return
	}
	for _, r := range rules {
		if r.outcome != Untold {
			r.reason, r.ask = reason, ask
		}
		r.outcome = Untold
	}
}

// took notes what a met corners or ends takes for granted of the pieces it
// counts.
func (s *sheet) took(a *asked, code codes) {
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate != counts || !g.itself() || g.tie.Place.End == middle {
			continue
		}
		told := g.tie.Place.End != ""
		spread := !told && g.tie.Place.Spread != ""
		direct := sideOnly(g.tie) || g.tie.Route == load.Direct && !g.placed()
		if !told && !spread && !direct {
			continue
		}
		g.used |= codeOnTheMachine | g.any
		if a.assumed && (direct || spread && s.places.spreadOpen) {
			g.used |= code
		}
	}
}
