package rules

import (
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// Reasons of articulation.
const (
	reasonRigid    = "does not bend"
	reasonAcross   = "tie-down across it"
	reasonNoLock   = "no lock and nothing across it"
	reasonMayCross = "one may be across it"
	reasonWheel    = "steering wheel only"
	reasonHasLock  = "has a lock, not told in"
)

// articulation asks of a machine that bends in the middle that it cannot bend on
// the road: its joint locked, or a tie-down across it (49 CFR 393.130(b)(2)). It
// is asked of the kinds that bend until told rigid, and of others once told that
// they do. A steering lock is taken as a bar at the joint; a locked steering
// wheel, the brake or a stopped engine is no lock.
//
// It does not ask for the locks of a swing, a turntable or an oscillating axle.
func articulation(s *sheet) {
	if !s.bends() {
		return
	}
	f := Finding{Rule: "articulation"}
	on := part{key: joint}
	s.tiesOn(&on)
	j := &s.art.Joint
	locked := j.Locked == load.Yes && j.How != load.SteeringWheel
	switch {
	case s.art.Articulated == load.No:
		f.Outcome, f.Reason = Met, reasonRigid
	case locked:
		f.Outcome, f.Reason = Met, reasonLocked
		if j.How == load.SteeringLock {
			s.assume(CodeLockIsBar, joint)
		}
	case on.tied:
		f.Outcome, f.Reason = Met, reasonAcross
		for i := range s.groups {
			if g := &s.groups[i]; g.tie.Place.On == joint && g.cond.fate == counts {
				g.used |= g.any
			}
		}
	case j.Locked == load.No || on.lost:
		s.unlocked(&f, on.maybe)
	case on.maybe != "":
		f.Reason, f.Ask = reasonOf(on.maybe), on.maybe
	case j.How == load.SteeringWheel:
		f.Reason, f.Ask = reasonWheel, AskJoint
	case j.Has:
		f.Reason, f.Ask = reasonHasLock, AskJoint
	case s.vague && s.art.Articulated == load.Untold:
		f.Reason, f.Ask = reasonVague, AskKind
	default:
		f.Reason, f.Ask = reasonExpected, AskJoint
	}
	s.find(f)
	if f.Outcome != Met || f.Reason == reasonAcross {
		s.demands = append(s.demands, Demand{Rule: f.Rule, On: joint, Have: Have{Number: s.on(joint)}})
	}
}

// unlocked settles a joint told without a lock: short, unless a tie-down on the
// article may turn out to be the one across it.
func (s *sheet) unlocked(f *Finding, returns string) {
	if returns != "" {
		f.Reason, f.Ask = reasonOf(returns), returns
		return
	}
	for i := range s.groups {
		g := &s.groups[i]
		if g.cond.fate > maybe || !g.itself() || g.n == 0 || s.art.Joint.Uncrossed {
			continue
		}
		if g.tie.Place.End == middle || !g.placed() && g.tie.Route != load.Direct {
			f.Reason, f.Ask = reasonMayCross, AskAcross
			return
		}
	}
	f.Outcome, f.Reason = Short, reasonNoLock
	s.onTheMachine()
}

// bends says whether the joint is asked of the article.
func (s *sheet) bends() bool {
	if s.class == tables.ClassCargo {
		return false
	}
	j := &s.art.Joint
	told := s.art.Articulated == load.Yes || j.Locked != load.Untold || j.Has || j.How != "" && j.How != load.SteeringWheel
	return told || s.kind.Joint == tables.JointAsked
}
