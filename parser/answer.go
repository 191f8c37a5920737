package parser

import (
	"halfweight/rules/load"
)

// bareFigure reads a message that is one figure and nothing to give it a
// meaning: an answer, or a correction of the figure told last.
func (r *reader) bareFigure(i int) bool {
	at, sorry, reads := -1, false, false
	for k := i; k < len(r.sig); k++ {
		switch t := r.t(k); t.kind {
		case kNum, kBig, kMass, kCount:
			if at >= 0 {
				if r.kindAt(k-1) == kNeg && k == len(r.sig)-1 {
					continue // "3 not 4": the first stands
				}
				return false
			}
			at = k
		case kNeg:
			if !refuses(t.raw) || at < 0 && t.raw == "not" || at >= 0 && !r.kindAt(k+1).in(kNum, kBig, kMass, kCount) {
				return false // "one short", "one aint hooked"
			}
			sorry = true
		case kCorrect:
			sorry = true
		case kRated:
			if t.word == "breaking" {
				return false
			}
			reads = true
		case kThem, kIt, kBe, kSep, kHedge, kStop, kDet, kLine, kAll:
		default:
			return false
		}
	}
	if at >= 0 && r.t(at).kind == kMass && r.has(i, len(r.sig), kIt) {
		return false // "he says its 14 tonnes"
	}
	if at < 0 || r.t(at).kind == kMass && !reads && !sorry {
		return false
	}
	t := r.t(at)
	offs := offsets(r.text)
	a := Answer{Figure: r.text[offs.at(t.at):offs.at(t.end)], Mass: t.weight.Told, Sorry: sorry}
	if t.num%load.One == 0 {
		a.Number = int(t.num / load.One)
	}
	if a.Mass == 0 {
		a.Mass, _ = load.Times(t.num, load.Pound)
	}
	if reads {
		a.Word = "reads"
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, a)
	return true
}

// refuses says whether a denial turns down what was said before: "no, 15200".
func refuses(raw string) bool {
	switch raw {
	case "no", "not", "nope", "nah":
		return true
	}
	return false
}

// bareWord reads a message that is one word an open question may be answered
// with.
func (r *reader) bareWord(i int) bool {
	word, neg := "", false
	for k := i; k < len(r.sig); k++ {
		t := r.t(k)
		w := ""
		switch t.kind {
		case kYes:
			w = "yes"
		case kNeg:
			neg = true
			continue
		case kUnsure:
			w = "unknown"
		case kState:
			switch t.word {
			case "locked", "tied", "not tied", "down", "up", "off":
				w = t.word
			case "not locked", "no lock", "no joint lock":
				w = "not locked"
			default:
				return false
			}
		case kTight:
			w = "tight"
		case kOn:
			if t.raw == "in" && k > i && k == len(r.sig)-1 {
				w = "locked" // "it's in"
			} else {
				continue
			}
		case kRoute:
			if r.has(k, len(r.sig), kJoint) && t.word != "same side" {
				w = "over the joint"
			} else {
				return false
			}
		case kJoint:
			if word != "over the joint" {
				return false
			}
			continue
		case kIt, kThem, kBe, kSep, kStop, kDet, kLine, kAnd, kAll:
			continue
		default:
			return false
		}
		if word != "" && word != w {
			if word == "yes" || word == "unknown" && w == "unknown" {
				word = w
				continue
			}
			return false
		}
		word = w
	}
	if neg {
		switch word {
		case "":
			word = "no"
		case "locked":
			word = "not locked"
		case "tied":
			word = "not tied"
		case "down":
			word = "up"
		case "tight":
			word = "loose"
		default:
			return false
		}
	}
	if word == "" {
		return false
	}
	r.ownAll(i, len(r.sig), OwnFact)
	r.acts = append(r.acts, Answer{Word: word})
	return true
}

// bare turns a message that told only a route, a place or a grade into what it
// tells of the tie-downs known already.
func (r *reader) bare() {
	if len(r.acts) != 1 {
		return
	}
	d, ok := r.acts[0].(Describe)
	if !ok || d.Add || len(d.Articles) != 1 {
		return
	}
	a := &d.Articles[0]
	if a.Kind != "" || a.Machine != "" || len(a.Lines) != 1 || len(r.arts) != 1 || !r.arts[0].empty() {
		return
	}
	l, t := a.Lines[0], a.Ties[0]
	if l.Named && (t.Size != 0 || t.Material != load.Chain || l.Told) || l.Told && t.Place.Spread == "" {
		return
	}
	t.Line, t.Plural = 0, false
	if l.Named && t.Grade.Reading == load.NotRead {
		return
	}
	if !l.Named && t.Route == "" && t.Place == (load.Place{}) {
		return
	}
	t.Material = ""
	r.acts[0] = Change{Ref: Ref{Which: All, Lacks: true}, Edit: Edit{Set: t}}
}
