package parser

import "halfweight/rules/load"

// inPlace reads what was put in the place of another from token k on: "replaced
// with a 5/16 g70", "swapped the front ones for 1/2 g70". It returns the facts of
// the new one and the token behind them; k where none of its kind is told.
func (r *reader) inPlace(k, to int) (set load.TieDown, end int) {
	if t := r.t(k); !t.kind.in(kWith, kFor, kTo) && !(t.kind == kOn && t.raw == "by") {
		return set, k
	}
	told := false
	m := k + 1
loop:
	for ; m < to; m++ {
		switch t := r.t(m); t.kind {
		case kDet, kExtra, kEach, kGradeWord:
		case kNum, kCount:
			if told {
				break loop // begins the next clause
			}
		case kSize:
			if set.Size != 0 {
				break loop
			}
			set.Size, set.SizeWord, told = t.size, t.word, true
		case kGrade:
			if set.Grade != (load.Grade{}) {
				break loop
			}
			set.Grade, told = readGrade(t.word), true
		case kMat:
			made, ok := materials[t.word]
			if !ok || len(t.tags) > 0 || set.Material != "" && set.Material != made.material {
				break loop
			}
			set.Material, told = made.material, true
			if set.Grade == (load.Grade{}) {
				set.Grade = made.grade
			}
			set.Make, set.Tensioner.Kind = made.make, made.tensioner
		default:
			break loop
		}
	}
	if !told {
		return load.TieDown{}, k
	}
	c := clause{}
	c.fillMaterial(&set)
	return set, m
}
