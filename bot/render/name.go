package render

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

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
		case t.Grade.Reading == load.NotRead && t.Marked() > 0:
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

// kind is what tells equal material apart, in few letters: "3/8 g70", "2 in",
// "3/8 (no mark)".
func (p *page) kind(t load.TieDown) string {
	w := &p.w.Name
	size := p.w.size(t)
	switch {
	case t.Size == 0 && t.Marked() == 0 && t.Material != "":
		size = w.SizeNotTold
	case t.Material == load.Chain:
		size = strings.TrimSuffix(size, w.Inch)
	}
	kind := t.Make
	if t.Material == load.Chain {
		kind = p.grade(t)
	}
	mark := ""
	switch m := t.Marked(); {
	case m > 0:
		mark = filled(w.Marked, "mark", p.down(m))
	case t.State.NoTag && t.Material != load.Chain:
		mark = w.MarkNone
	}
	return strings.Join(strings.Fields(size+" "+kind+" "+mark), " ")
}

// grade is a chain's grade in few letters.
func (p *page) grade(t load.TieDown) string {
	w := &p.w.Name
	switch {
	case t.Grade.Reading == load.Read:
		return w.GradeMark + t.Grade.Value
	case t.Grade.Reading == load.Alloy:
		return w.Alloy
	case t.Grade.Reading == load.NoMarks:
		return w.MarkNone
	case t.Size > 0 && t.Marked() == 0:
		return w.MarkNotTold
	}
	return ""
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
	noun := p.w.noun(t.Material, n)
	if n > 1 {
		return filled(p.w.Name.Many, "kind", p.after(t), "noun", noun)
	}
	return strings.TrimSpace(filled(p.w.Name.Brief, "kind", p.kind(t), "noun", noun))
}

// after is the kind as it follows a noun: " 3/8 g70", or nothing.
func (p *page) after(t load.TieDown) string {
	kind := p.kind(t)
	if kind == "" {
		return ""
	}
	return " " + kind
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
			return plain(part.Word, long)
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

// capital begins s with a capital.
func capital(s string) string {
	if s == "" {
		return s
	}
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}

// unique is the list with each item once, in its order.
func unique(list []string) []string {
	var once []string
	for _, s := range list {
		once = addNew(once, s)
	}
	return once
}

func addNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// word is the language's word for a key, the key itself where none is written.
func word(words map[string]string, key string) string {
	if w, ok := words[key]; ok {
		return w
	}
	return key
}
