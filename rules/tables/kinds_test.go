package tables

import (
	"slices"
	"strings"
	"testing"
)

// What each kind is expected to have, as the specification's "Accessories and
// joints" settles it: a finding for each until told, and the joint.
func TestKind_expectsWhatIsSettled(t *testing.T) {
	for key, want := range map[string]struct {
		joint Bends
		says  []string // the first word of each set
	}{
		"dozer":                  {JointIfTold, []string{"blade"}},
		"excavator":              {JointIfTold, []string{"bucket"}},
		"mini excavator":         {JointIfTold, []string{"bucket", "blade"}},
		"backhoe":                {JointIfTold, []string{"front bucket", "hoe"}},
		"loader":                 {JointAsked, []string{"bucket"}},
		"wheel loader":           {JointAsked, []string{"bucket"}},
		"skid steer":             {JointIfTold, []string{"bucket"}},
		"track loader":           {JointIfTold, []string{"bucket"}},
		"grader":                 {JointAsked, []string{"blade"}},
		"trencher":               {JointIfTold, []string{"boom"}},
		"telehandler":            {JointIfTold, []string{"boom"}},
		"crane":                  {JointIfTold, []string{"boom"}},
		"boom lift":              {JointIfTold, []string{"boom"}},
		"scissor lift":           {JointIfTold, []string{"platform"}},
		"forklift":               {JointIfTold, []string{"forks"}},
		"paver":                  {JointIfTold, []string{"screed"}},
		"articulated dump truck": {JointAsked, []string{"body"}},
		"skidder":                {JointAsked, []string{"blade"}},
		"scraper":                {JointAsked, nil},
		"compactor":              {JointAsked, nil},
		"roller":                 {JointAsked, nil},
		"tandem roller":          {JointAsked, nil},
		"pneumatic roller":       {JointIfTold, nil},
		"forwarder":              {JointAsked, []string{"crane"}}, // by testdata/reference/machines.csv alone
		"harvester":              {JointAsked, []string{"crane"}}, // by testdata/reference/machines.csv alone
		"tractor":                {JointIfTold, nil},
		"car":                    {JointNone, nil},
		"pickup":                 {JointNone, nil},
		"van":                    {JointNone, nil},
		"light truck":            {JointNone, nil},
		"truck":                  {JointNone, nil},
		"machine":                {JointAsked, nil},
		"equipment":              {JointAsked, nil},
		"unit":                   {JointAsked, nil},
		"unknown":                {JointAsked, nil},
		"crate":                  {JointNone, nil},
	} {
		m, ok := Kind(key)
		if !ok {
			t.Errorf("no kind %q", key)
			continue
		}
		var says []string
		for _, set := range m.Expects {
			says = append(says, set[0])
		}
		if m.Joint != want.joint || !slices.Equal(says, want.says) {
			t.Errorf("%s: joint %s, expects %v", key, m.Joint, says)
		}
	}
}

// settles lists the sets of a kind that a tie-down on the part settles.
func settles(t *testing.T, kind, part string) []int {
	t.Helper()
	m, ok := Kind(kind)
	if !ok {
		t.Fatalf("no kind %q", kind)
	}
	var out []int
	for i, set := range m.Expects {
		if slices.Contains(set, part) {
			out = append(out, i)
		}
	}
	return out
}

func TestKind_onePartSettlesItsSetOnly(t *testing.T) {
	for _, c := range []struct {
		kind, part string
		want       []int
	}{
		{"excavator", "boom", []int{0}},
		{"excavator", "stick", []int{0}},
		{"excavator", "hammer", []int{0}},
		{"excavator", "thumb", nil},
		{"mini excavator", "blade", []int{1}},
		{"mini excavator", "auger", []int{0}},
		{"backhoe", "bucket", []int{0}}, // no more is told than the front one
		{"backhoe", "hoe bucket", []int{1}},
		{"backhoe", "boom", []int{1}},
		{"skid steer", "brush cutter", []int{0}},
		{"skid steer", "grapple", []int{0}},
		{"loader", "forks", []int{0}},
		{"loader", "arms", []int{0}},
		{"track loader", "broom", []int{0}},
		{"dozer", "ripper", nil},
		{"telehandler", "forks", nil},
		{"forklift", "mast", []int{0}},
		{"skidder", "grapple", []int{0}},
		{"boom lift", "platform", nil},
	} {
		if got := settles(t, c.kind, c.part); !slices.Equal(got, c.want) {
			t.Errorf("%s on a %s settles %v, want %v", c.part, c.kind, got, c.want)
		}
	}
}

// testdata/reference/guidance.csv G1 to G5, as the specification settles them.
func TestKind_lockIsEnoughOnlyWhereSettled(t *testing.T) {
	for _, c := range []struct {
		kind, part string
		needs      []string
		ok         bool
	}{
		{"backhoe", "hoe", []string{"boom lock", "swing pin"}, true},
		{"backhoe", "boom", []string{"boom lock", "swing pin"}, true},
		{"backhoe", "bucket", nil, false},
		{"backhoe", "front bucket", nil, false},
		{"backhoe", "stabilisers", nil, true},
		{"trencher", "boom", nil, true},
		{"trencher", "hoe", nil, false},
		{"crane", "boom", nil, false},
		{"crane", "outriggers", nil, true},
		{"excavator", "boom", nil, false},
		{"telehandler", "stabilisers", nil, true},
		{"boom lift", "turntable", nil, false},
		{"dozer", "blade", nil, false},
	} {
		m, _ := Kind(c.kind)
		if needs, ok := m.LockEnough(c.part); ok != c.ok || !slices.Equal(needs, c.needs) {
			t.Errorf("%s of a %s: %v, %v", c.part, c.kind, needs, ok)
		}
	}
}

// words of testdata/reference/machines.csv for part keys that it spells
// otherwise.
var spelled = map[string]string{
	"swing pin":      "swing",
	"arms":           "lift arms",
	"front bucket":   "bucket",
	"hoe bucket":     "hoe bucket",
	"harvester head": "grapple",
}

// Every part of a kind is one that the reference lists for it, save what the
// specification adds; and the mark is the reference's.
func TestKinds_partsStandInTheReference(t *testing.T) {
	listed := make(map[string]map[string]string)
	for _, m := range reference(t, "machines.csv") {
		listed[m["machine"]] = m
	}
	added := map[string][]string{ // by the specification, or another name of a listed part
		"backhoe":        {"arms", "loader", "bucket", "boom", "stick"},
		"wheel loader":   {"arms", "blade"},
		"skid steer":     {"blade"},
		"track loader":   {"blade"},
		"forwarder":      {"boom"},
		"harvester":      {"boom"},
		"loader":         nil,
		"mini excavator": nil,
	}
	same := map[string]string{"loader": "wheel loader", "compactor": "roller"}
	for _, m := range Kinds() {
		if m.Class != ClassMachine {
			continue
		}
		key := m.Key
		if s, ok := same[key]; ok {
			key = s
		}
		ref, ok := listed[key]
		if !ok {
			if !strings.HasPrefix(m.Mark, "memory") {
				t.Errorf("%s is marked %q and is in no reference", m.Key, m.Mark)
			}
			continue
		}
		if m.Mark != ref["confidence"] {
			t.Errorf("%s is marked %q, the reference %q", m.Key, m.Mark, ref["confidence"])
		}
		var keys []string
		for _, set := range m.Expects {
			keys = append(keys, set...)
		}
		for _, part := range append(keys, m.Others...) {
			if p, _ := FindPart(part); p.Attachment && part != "bucket" {
				continue
			}
			word := part
			if s, ok := spelled[part]; ok {
				word = s
			}
			if !strings.Contains(ref["accessories"]+" "+ref["joint"], word) && !slices.Contains(added[key], part) {
				t.Errorf("%s: %s is not in the reference", m.Key, part)
			}
		}
	}
	for key := range listed {
		if _, ok := Kind(key); !ok {
			t.Errorf("no kind %q", key)
		}
	}
}

func TestKinds_knowTheirParts(t *testing.T) {
	keys := make(map[string]bool)
	for _, m := range Kinds() {
		if keys[m.Key] {
			t.Errorf("%s is there twice", m.Key)
		}
		keys[m.Key] = true
		parts := slices.Clone(m.Others)
		for _, set := range m.Expects {
			parts = append(parts, set...)
		}
		for _, l := range m.Locks {
			parts = append(parts, l.Parts...)
		}
		for _, p := range parts {
			if _, ok := FindPart(p); !ok {
				t.Errorf("%s: no part %q", m.Key, p)
			}
		}
		for _, o := range m.Others {
			if len(settles(t, m.Key, o)) > 0 {
				t.Errorf("%s: %s is both expected and taken as stowed", m.Key, o)
			}
		}
	}
	seen := make(map[string]bool)
	for _, p := range Parts() {
		if seen[p.Key] || p.Key != strings.ToLower(p.Key) {
			t.Errorf("part %q", p.Key)
		}
		seen[p.Key] = true
		if !slices.Contains([]string{"tool", "arm", "body", "leg", "turn", "fitting"}, p.Sort) {
			t.Errorf("part %s is of no sort: %q", p.Key, p.Sort)
		}
	}
}
