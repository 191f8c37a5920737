package parser

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"halfweight/rules/load"
)

// This file prints what was read as one line that a person can check, equal for
// any two ways to tell one thing:
//
//	roller 14000 lb articulated joint=locked | 4 chain 3/8 g70 direct corners
//
// A count is followed by "?" where it was not told and by "+" where there may
// be more; a weight without "lb" or "kg" was told without a unit.

// reading is all that was read of a message, its acts parted by " ; ".
func reading(m Message) string {
	var acts []string
	for _, act := range m.Acts {
		acts = append(acts, printAct(act))
	}
	return strings.Join(acts, " ; ")
}

// unread is what was not read, each piece with its place: "florp"@17.
func unread(m Message) string {
	var out []string
	for _, s := range m.Unread {
		out = append(out, fmt.Sprintf("%q@%d", s.Text, s.At))
	}
	return strings.Join(out, " ")
}

// words joins what is not empty.
func words(of ...string) string {
	return strings.Join(slices.DeleteFunc(of, func(s string) bool { return s == "" }), " ")
}

func when(yes bool, s string) string {
	if yes {
		return s
	}
	return ""
}

func printAct(act Act) string {
	switch a := act.(type) {
	case Describe:
		var arts []string
		for i := range a.Articles {
			arts = append(arts, printArticle(&a.Articles[i]))
		}
		return words(when(a.Add, "add"), when(a.Definite, "the"), strings.Join(arts, " & "))
	case Change:
		return words("change", printChange(a))
	case Gear:
		if a.Do == "machine" {
			return words("gear machine", a.Machine, "=", printArticle(&Article{Article: a.Article}))
		}
		return words("gear", a.Do, strings.Join(a.Tags, "+"), printLines(a.Lines, a.Ties), printMass(a.Anchor))
	case Ask:
		var change string
		if a.Change != nil {
			change = "(" + printChange(*a.Change) + ")"
		}
		art := a.Article
		art.Weight = load.Weight{}
		return words("ask", a.Topic, printPlan(a.Plan), printLines(a.Lines, a.Ties), printArticle(&Article{Article: art}), printWeight(a.Weight), change)
	case Road:
		return words("road", a.Word, when(a.Miles > 0, strconv.FormatFloat(a.Miles, 'f', -1, 64)))
	case Same:
		return words("same", a.Place.End, a.Place.Side, a.Other, when(a.Count > 0, strconv.Itoa(a.Count)))
	case House:
		return words("house", a.Word, a.Arg)
	case HouseRule:
		return words("house rule", when(a.Do == "", "not read"), a.Do, a.Kind, when(a.Percent > 0, strconv.Itoa(a.Percent)+" percent"), when(a.Count > 0, strconv.Itoa(a.Count)), printMass(a.Mass))
	case Answer:
		return words("answer", when(a.Sorry, "sorry"), a.Word, a.Figure, when(a.Figure != "", fmt.Sprintf("(%s, %d)", printMass(a.Mass), a.Number)))
	}
	return fmt.Sprintf("%#v", act)
}

func printPlan(p *Plan) string {
	if p == nil {
		return ""
	}
	var list []string
	for i := range p.Articles {
		list = append(list, "for "+printArticle(&p.Articles[i]))
	}
	for _, x := range p.Exclude {
		list = append(list, "without "+printTie(x))
	}
	return words(when(p.Spare, "one spare"), when(p.Smallest, "smallest"), when(p.Material != "", "of "+string(p.Material)), when(p.Count > 0, "of "+strconv.Itoa(p.Count)), strings.Join(list, " "))
}

func printArticle(a *Article) string {
	head := words(when(a.Replace, "instead"), a.Kind, when(a.Name != a.Kind, strconv.Quote(a.Name)), when(a.Machine != "", "no. "+a.Machine), printWeight(a.Weight),
		when(a.Length > 0, "length="+printLength(a.Length)),
		printTri(a.Articulated, "articulated", "rigid"), printTri(a.OnWheels, "on wheels", "not on wheels"), printTri(a.Blocked, "blocked", "not blocked"),
		when(a.Still, "nothing moves"), when(a.Bare, "nothing on it"), printParts(a.Parts), printJoint(a.Joint), printCargo(a.Cargo))
	ties := printPieces(a.Lines, a.Ties)
	if head == "" {
		return strings.Join(ties, " | ")
	}
	return strings.Join(append([]string{head}, ties...), " | ")
}

// printPieces groups equal pieces that were told with equal certainty, in the
// order told.
func printPieces(lines []Line, ties []load.TieDown) []string {
	var order []string
	count := map[string]int{}
	for _, t := range ties {
		told := t.Line < len(lines) && lines[t.Line].Told
		key := when(!told && !t.Plural, "?") + when(t.Plural, "+") + " " + printTie(t)
		if count[key]++; count[key] == 1 {
			order = append(order, key)
		}
	}
	for i, key := range order {
		order[i] = strconv.Itoa(count[key]) + key
	}
	return order
}

// printLines is the same for an act that holds one tie-down to a line.
func printLines(lines []Line, ties []load.TieDown) string {
	var out []string
	for i, t := range ties {
		n := "1" + when(t.Plural, "+") + when(!t.Plural, "?")
		if i < len(lines) && lines[i].Told {
			n = strconv.Itoa(lines[i].Count)
		}
		out = append(out, words(n, printTie(t)))
	}
	return strings.Join(out, " | ")
}

func printTie(t load.TieDown) string {
	material := string(t.Material)
	switch t.Material {
	case "":
		material = "tie-down"
	case load.Webbing:
		material = "strap"
	case load.Cordage:
		material = "rope"
	}
	return words(material, printLike(t))
}

// printLike is a tie-down without its material.
func printLike(t load.TieDown) string {
	grade := when(t.Grade.Reading == load.Read, "g"+t.Grade.Value) + when(t.Grade.Reading == load.NoMarks, "no marks") + when(t.Grade.Reading == load.Alloy, "alloy")
	tens := t.Tensioner
	var binder string
	if tens != (load.Tensioner{}) {
		binder = "binder=" + strings.Join(slices.DeleteFunc([]string{when(tens.Has == load.No, "none"), tens.Kind, tens.Tag, tens.Label, printMass(tens.Rating)}, func(s string) bool { return s == "" }), ",")
		if tens.Has == load.Yes && binder == "binder=" {
			binder += "there"
		}
	}
	var state []string
	for _, d := range t.State.Damage {
		state = append(state, printDamage(d))
	}
	return words(t.Make, printSize(t), grade, when(t.Mark > 0, "marked="+printMass(t.Mark)), binder,
		when(t.HookStamp != (load.Stamp{}), "hooks="+printStamp(t.HookStamp)), when(t.Tensioner.Stamp != (load.Stamp{}), "binders="+printStamp(t.Tensioner.Stamp)),
		when(t.Hook > 0, "hook="+printMass(t.Hook)), when(t.Anchor > 0, "ring="+printMass(t.Anchor)),
		string(t.Route), t.Place.End, t.Place.Side, t.Place.Spread, when(t.Place.On != "", "on "+t.Place.On),
		printTri(t.State.Tight, "tight", "loose"), printTri(t.State.Sound, "sound", "unsound"), strings.Join(state, " "),
		when(t.State.NoGuard, "no guard"), when(t.State.Guarded == load.Yes, "guarded"), when(t.State.NoTag && t.Grade.Reading != load.NoMarks, "no tag"), t.State.Gone, when(t.Shared, "shared"), when(t.Thick > 0, "thick="+printLength(t.Thick)), t.Tag)
}

func printSize(t load.TieDown) string {
	if t.Size == 0 && t.SizeWord == "" {
		return ""
	}
	size := printLength(t.Size)
	if s, ok := strings.CutSuffix(size, " in"); ok && s == t.SizeWord && t.Material != load.Webbing {
		return s // chain is told in bare fractions
	}
	if size != t.SizeWord && size != t.SizeWord+" in" {
		return size + "(written " + t.SizeWord + ")"
	}
	return size
}

func printDamage(d load.Damage) string {
	var sizes []string
	for _, l := range d.Size {
		sizes = append(sizes, printLength(l))
	}
	part := d.Part
	if part == string(load.Webbing) {
		part = "strap"
	}
	return words(part, d.Kind+when(len(sizes) > 0, "["+strings.Join(sizes, ",")+"]")+when(d.Left > 0, "[left "+printLength(d.Left)+"]")+
		when(d.Lost > 0, "[lost "+printLength(d.Lost)+"]")+when(d.New > 0, "[new "+printLength(d.New)+"]")+
		when(d.Share > 0, "[share "+decimals(float64(d.Share)/float64(load.One))+"]")+
		when(d.Wires > 0, fmt.Sprintf("[%d]", d.Wires))+when(d.Over > 0, "[over "+printLength(d.Over)+"]")+when(d.Lay, "[in a lay]")+
		when(d.Strand > 0, fmt.Sprintf("[%d a strand]", d.Strand))+when(d.Fitting > 0, fmt.Sprintf("[%d at a fitting]", d.Fitting)))
}

func printParts(parts []load.Part) string {
	var out []string
	for _, p := range parts {
		held := []string{printTri(p.Down, "down", "up"), printTri(p.Tied, "tied", "not tied"), strings.Join(p.Locks, ","), when(p.Unlocked, "unlocked"),
			when(p.Hydraulics, "hydraulics"), when(p.Prop, "prop"), when(p.Loose, "loose"), when(p.Off, "off"), when(p.Stowed, "stowed")}
		held = slices.DeleteFunc(held, func(s string) bool { return s == "" })
		if len(held) == 0 {
			held = []string{"?"}
		}
		out = append(out, p.Name+when(p.Word != p.Name, strconv.Quote(p.Word))+"="+strings.Join(held, ","))
	}
	return strings.Join(out, " ")
}

func printJoint(j load.Joint) string {
	if j == (load.Joint{}) {
		return ""
	}
	how := string(j.How)
	switch {
	case j.Locked == load.Yes && j.How == load.LockBar:
		how = "locked"
	case j.Locked == load.No && j.How == load.LockBar:
		how = "not locked"
	case j.Locked == load.No:
		how = words("no", how)
	case j.Locked == load.Untold && j.How != load.SteeringWheel:
		how = words("?", how)
	}
	return "joint=" + how + when(j.Has, "(has one)")
}

func printChange(c Change) string {
	which := string(c.Ref.Which)
	if which == "" {
		which = "it"
	}
	ref := words(which, when(c.Ref.Count > 0, strconv.Itoa(c.Ref.Count)), string(c.Ref.Like.Material), printLike(c.Ref.Like), when(c.Ref.Kind != "", "of the "+c.Ref.Kind), when(c.Ref.Lacks, "that lack it"))
	var hurt []string
	for _, d := range c.Edit.Damage {
		hurt = append(hurt, printDamage(d))
	}
	e := c.Edit
	edit := words(string(e.Set.Material), printLike(e.Set), when(e.Loose, "loose"), when(e.Tightened, "tightened"), when(e.Replaced, "replaced"), strings.Join(hurt, " "),
		e.Gone, when(e.Back, "back on"), when(e.Count > 0, "count="+strconv.Itoa(e.Count)))
	return ref + " -> " + edit
}

func printTri(t load.Tri, yes, no string) string {
	return when(t == load.Yes, yes) + when(t == load.No, no)
}

func printMass(m load.Mass) string {
	if m == 0 {
		return ""
	}
	return decimals(m.Pounds()) + " lb"
}

func printWeight(w load.Weight) string {
	if w == (load.Weight{}) {
		return ""
	}
	unit, in := " lb", load.Mass.Pounds
	if w.Metric {
		unit, in = " kg", load.Mass.Kilograms
	}
	s := decimals(in(w.Told)) + when(!w.Bare, unit) + when(w.Ton, " as ton")
	if w.Low != w.Told || w.High != w.Told {
		s += " " + decimals(in(w.Low)) + ".." + decimals(in(w.High))
	}
	return s
}

func printLength(l load.Length) string {
	switch {
	case l%load.Foot == 0:
		return decimals(float64(l)/float64(load.Foot)) + " ft"
	case l%load.Inch == 0:
		return decimals(l.Inches()) + " in"
	}
	for d := load.Length(2); d <= 64; d *= 2 {
		if l*d%load.Inch == 0 {
			n := l * d / load.Inch
			return when(n > d, fmt.Sprint(n/d, "-")) + fmt.Sprintf("%d/%d in", n%d, d)
		}
	}
	if l%load.Millimetre == 0 {
		return decimals(float64(l)/float64(load.Millimetre)) + " mm"
	}
	return decimals(l.Inches()) + " in"
}

// decimals is x to 0.01, without needless zeros.
func decimals(x float64) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(x, 'f', 2, 64), "0"), ".")
}

func printCargo(c load.Cargo) string {
	number := func(word string, n int) string { return when(n != 0, word+"="+strconv.Itoa(n)) }
	return words(number("pieces", c.Pieces), when(c.Several, "several"), when(c.Total, "in all"), when(c.Whole, "row"), c.Lies, c.Shape, when(c.Bore > 0, "bore="+printLength(c.Bore)),
		number("stacks", c.Stacks), number("tiers", c.Tiers), number("walls", c.Walls),
		printTri(c.Chassis, "on a chassis", "not on a chassis"), printTri(c.Empty, "empty", "loaded"), printTri(c.Locked, "locks in", "locks not in"),
		printTri(c.Chocked, "chocked", "not chocked"), printTri(c.Banded, "banded", "not banded"), printTri(c.Touching, "touching", "not touching"),
		printTri(c.Special, "special method", "no special method"), printTri(c.Checked, "checks made", "checks not made"))
}

// printStamp is a stamp in 64ths of an inch, and its grade.
func printStamp(s load.Stamp) string {
	return fmt.Sprintf("%d/64%s", s.Size*64/load.Inch, when(s.Grade != "", "g"+s.Grade))
}
