package parser

import "halfweight/rules/load"

// This file finds what a message both denies and tells: "bucket not tied ...
// bucket chained". Which of the two is so is not known, so no load is covered on
// it. A correction ("sorry, it is tied") settles it.

// denied notes what the message denied of parts and of the joint, whatever it
// tells of them later.
type denied struct {
	held, down map[string]bool // parts told not held, told not down
	joint      bool            // the joint told not locked, or its lock doubted
}

func (d *denied) hold(part string) {
	if d.held == nil {
		d.held = map[string]bool{}
	}
	d.held[part] = true
}

func (d *denied) lower(part string) {
	if d.down == nil {
		d.down = map[string]bool{}
	}
	d.down[part] = true
}

// part notes what a state told of a part denies.
func (d *denied) part(name string, t *tok, yes bool) {
	switch {
	case t.kind == kLoose && yes, t.kind == kState && t.word == "tied" && !yes,
		t.kind == kState && yes && t.word != "up" && outOfHold(t.word):
		d.hold(name)
	case t.kind == kState && t.word == "off" && t.raw != "off" && yes:
		d.hold(name) // "blade down, not on yet": what is not on
		d.lower(name)
	case t.kind == kState && (t.word == "up" && yes || t.word == "down" && !yes):
		d.lower(name)
	}
}

// outOfHold says whether a state tells that nothing holds the part.
func outOfHold(state string) bool {
	switch state {
	case "not tied", "not locked", "no lock", "hydraulics", "free":
		return true
	}
	return false
}

// contradicts says whether the message tells of an article what it denied.
func (r *reader) contradicts(a *article) bool {
	d := &r.deny
	if d.joint && a.Joint.Locked == load.Yes {
		return true
	}
	if a.Bare && len(a.Ties) > 0 {
		if r.bareOf == "" || a.madeOf(r.bareOf) {
			return true
		}
		a.Bare = false // "no straps, 4x 3/8 chains"
	}
	for i := range a.Parts {
		p := &a.Parts[i]
		held := p.Tied == load.Yes || len(p.Locks) > 0
		if held && d.held[p.Name] || p.Down == load.Yes && d.down[p.Name] {
			return true
		}
		if (d.held[p.Name] || p.Tied == load.No || p.Doubtful) && a.tiedTo(p.Name) {
			return true
		}
	}
	return false
}

// madeOf says whether a tie-down of that material is told.
func (a *article) madeOf(m load.Material) bool {
	for i := range a.Ties {
		if a.Ties[i].Material == m {
			return true
		}
	}
	return false
}

// tiedTo says whether a tie-down that is on is told to hold the part.
func (a *article) tiedTo(part string) bool {
	for i := range a.Ties {
		if x := &a.Ties[i]; x.Place.On == part && x.State.Gone == "" && x.State.Tight != load.No {
			return true
		}
	}
	return false
}

// doubtPart leaves a part spoken of with a doubt: nothing is told of it.
func (r *reader) doubtPart(p *load.Part) {
	*p = load.Part{Name: p.Name, Word: p.Word, Doubtful: true}
	r.deny.hold(p.Name)
}

// doubtJoint leaves the joint's lock in doubt.
func (r *reader) doubtJoint(a *article) {
	a.Joint = load.Joint{Has: true, Doubtful: true}
	r.deny.joint = true
}

// corrected says whether the message puts something right: "sorry", "I mean".
func (r *reader) corrected() bool { return r.has(0, len(r.sig), kCorrect) }
