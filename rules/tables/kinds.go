package tables

import (
	_ "embed"
	"slices"
	"strings"
	"sync"
)

//go:embed kinds.csv
var kindsCSV string

// Class is what the rules take a kind of article for.
type Class string

// The classes. A vehicle of exactly 10,000 lb may ride by 49 CFR 393.128, which
// a truck of that weight may not.
const (
	ClassMachine Class = "machine"
	ClassVehicle Class = "vehicle" // car, pickup, van, light truck
	ClassTruck   Class = "truck"   // a truck of any sort: no accessory, no joint
	ClassCargo   Class = "cargo"   // plainly not on wheels or tracks
	ClassVague   Class = "vague"   // too vague a kind: machine, equipment, unit
	ClassUnknown Class = "unknown" // a noun not in the table: even its wheels are untold
)

// Bends says what is expected of a kind's joint.
type Bends string

// The joints.
const (
	JointAsked  Bends = "asked"   // bends unless told rigid: untold until told
	JointIfTold Bends = "if told" // only when told articulated
	JointNone   Bends = "none"    // never
)

// MovingParts stands for the accessories of an article named too vaguely to
// know them.
const MovingParts = "moving parts"

// Machine is a row of kinds.csv: what a kind of article has that moves.
type Machine struct {
	Key     string
	Class   Class
	Joint   Bends
	Expects [][]string // accessories expected until told; each is a set of part keys of which one settles it, its first the word to say
	Others  []string   // parts taken as stowed until named
	Locks   []PartLock // parts for which locks are enough at any weight, beyond those of parts.csv
	Source
}

// PartLock says that locks hold any of Parts.
type PartLock struct {
	Parts []string
	Needs []string // the locks that must all be told in; empty: any lock or pin
}

// LockEnough says whether a lock alone holds that part at 10,000 lb or more.
// needs are the locks that must all be told in; empty, any lock or pin will do.
func (m Machine) LockEnough(part string) (needs []string, ok bool) {
	for i := range m.Locks {
		if slices.Contains(m.Locks[i].Parts, part) {
			return m.Locks[i].Needs, true
		}
	}
	p, _ := FindPart(part)
	return nil, p.LockEnough
}

type kindTable struct {
	list  []Machine
	byKey map[string]int
}

var kinds = sync.OnceValue(func() kindTable {
	t := kindTable{list: parse("kinds.csv", kindsCSV, machine)}
	t.byKey = make(map[string]int, len(t.list))
	for i := range t.list {
		t.byKey[t.list[i].Key] = i
	}
	return t
})

func machine(r row) Machine {
	m := Machine{
		Key:    r.text("key"),
		Class:  Class(r.text("class")),
		Joint:  Bends(r.text("joint")),
		Others: r.list("others", ";"),
		Source: r.source(),
	}
	for _, set := range r.list("expects", ";") {
		m.Expects = append(m.Expects, withAttachments(strings.Split(set, "|")))
	}
	for _, lock := range r.list("locks", ";") {
		parts, needs, _ := strings.Cut(lock, ":")
		l := PartLock{Parts: strings.Split(parts, "|")}
		if needs != "any" {
			l.Needs = strings.Split(needs, "+")
		}
		m.Locks = append(m.Locks, l)
	}
	return m
}

// withAttachments adds every attachment to a set that "attachment" is in: a
// brush cutter on a skid steer rides where its bucket would.
func withAttachments(set []string) []string {
	if !slices.Contains(set, "attachment") {
		return set
	}
	for _, p := range Parts() {
		if p.Attachment && !slices.Contains(set, p.Key) {
			set = append(set, p.Key)
		}
	}
	return set
}

// Kind looks up a kind of article by its key.
func Kind(key string) (m Machine, ok bool) {
	t := kinds()
	i, ok := t.byKey[key]
	if !ok {
		return Machine{}, false
	}
	return t.list[i], true
}

// Kinds lists all kinds, in file order.
func Kinds() []Machine { return kinds().list }
