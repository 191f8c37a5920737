package render

import (
	"strings"

	"halfweight/rules/load"
)

// full names a kind of tie-down as the data does: "3/8 in grade 70 chain".
func (w *words) full(t load.TieDown) string {
	phrase := w.Name.Material[t.Material].Full
	note := ""
	if t.Material == load.Chain {
		switch {
		case t.Grade.Reading == load.NoMarks:
			note = w.Name.NoMark
		case t.Grade.Reading == load.Alloy:
			phrase = w.Name.ChainAlloy
		case t.Grade.Reading == load.NotRead && t.Mark > 0:
		case t.Grade.Reading == load.NotRead:
			note = w.Name.NoGrade
		default:
			phrase = w.Name.ChainGrade
		}
	}
	if t.Size == 0 {
		note = w.Name.NoSize + note
	}
	name := filled(phrase, "size", w.size(t), "grade", t.Grade.Value, "make", t.Make)
	return strings.Join(strings.Fields(name), " ") + note
}

// size is the nominal size with its unit: "3/8 in", "10 mm".
func (w *words) size(t load.TieDown) string {
	switch {
	case t.Size == 0:
		return ""
	case t.SizeWord == "":
		return inches(t.Size) + w.Name.Inch
	case strings.HasSuffix(t.SizeWord, "mm"):
		return t.SizeWord
	}
	return t.SizeWord + w.Name.Inch
}

// kind is what tells equal material apart, in few letters: "3/8 g70",
// "2 in", "3/8, no mark".
func (p *page) kind(t load.TieDown) string {
	w := p.w
	s := w.size(t)
	if t.Material == load.Chain {
		s = strings.TrimSuffix(s, w.Name.Inch)
	}
	if t.Size == 0 && t.Material != "" {
		s = w.Name.SizeNotTold
	}
	switch {
	case t.Material != load.Chain:
		if t.Make != "" {
			s += " " + t.Make
		}
	case t.Grade.Reading == load.Read:
		s += " " + w.Name.GradeMark + t.Grade.Value
	case t.Grade.Reading == load.Alloy:
		s += " " + w.Name.Alloy
	case t.Grade.Reading == load.NoMarks:
		s += w.Name.MarkNone
	case t.Mark == 0:
		s += w.Name.MarkNotTold
	}
	if t.Mark > 0 {
		s += filled(w.Name.Marked, "mark", p.down(t.Mark))
	}
	return s
}

// noun is the word for n tie-downs of a material.
func (w *words) noun(m load.Material, n int) string {
	if n == 1 {
		return w.Name.Material[m].One
	}
	return w.Name.Material[m].Many
}

// brief names one of a kind or more with its noun: "3/8 g70 chain", "2 in
// strap"; "chains 3/8 g70", so that no number stands before a fraction.
func (p *page) brief(t load.TieDown, n int) string {
	phrase := p.w.Name.Brief
	if n > 1 {
		phrase = p.w.Name.Many
	}
	return strings.TrimSpace(filled(phrase, "kind", p.kind(t), "noun", p.w.noun(t.Material, n)))
}

// place is where a tie-down holds: "front left", "corners", "bucket"; "" when
// it was not told.
func (w *words) place(at load.Place, parts []load.Part) string {
	switch {
	case at.On != "":
		return w.part(at.On, parts)
	case at.End != "" && at.Side != "":
		return filled(w.Name.EndSide, "end", w.Name.Places[at.End], "side", w.Name.Places[at.Side])
	case at.End != "":
		return w.Name.Places[at.End]
	case at.Side != "":
		return w.Name.Places[at.Side]
	}
	return w.Name.Places[at.Spread]
}

// part is the user's word for an accessory, else the table's.
func (w *words) part(key string, parts []load.Part) string {
	for _, part := range parts {
		if part.Name == key && part.Word != "" {
			return part.Word
		}
	}
	if word, ok := w.Name.Parts[key]; ok {
		return word
	}
	return key
}

// list joins items: "bucket, joint and blade".
func (w *words) list(items []string) string { return join(items, w.Name.And) }

// either joins items of which one is meant: "binder, hook or ring".
func (w *words) either(items []string) string { return join(items, w.Name.Or) }

func join(items []string, last string) string {
	n := len(items) - 1
	if n < 1 {
		return strings.Join(items, "")
	}
	return strings.Join(items[:n], ", ") + last + items[n]
}
