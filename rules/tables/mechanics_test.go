package tables

import (
	"maps"
	"math"
	"slices"
	"testing"
)

// The rows and the reference are the same rows: the figure, its mark, its unit.
func TestMechanics_everyRowIsInTheReference(t *testing.T) {
	for name, columns := range map[string][]string{
		"mechanics.csv": {"key", "value", "unit", "mark", "cite"},
		"friction.csv":  {"contact", "deck", "state", "friction", "mark", "cite"},
	} {
		keys := func(rows []map[string]string) map[string]bool {
			set := map[string]bool{}
			for _, r := range rows {
				key := ""
				for _, c := range columns {
					key += r[c] + "|"
				}
				if set[key] {
					t.Errorf("%s has %s twice", name, key)
				}
				set[key] = true
			}
			return set
		}
		ours, theirs := keys(lines(t, name)), keys(reference(t, name))
		if !maps.Equal(ours, theirs) {
			t.Errorf("%s: ours %v, reference %v", name, slices.Sorted(maps.Keys(ours)), slices.Sorted(maps.Keys(theirs)))
		}
	}
}

func TestFriction_whatIsNotToldIsTheLesser(t *testing.T) {
	for _, c := range []struct {
		told Rubbing
		want float64
	}{
		{Rubbing{}, 0.2},
		{Rubbing{State: "wet"}, 0.2},
		{Rubbing{State: "slick"}, 0.05},
		{Rubbing{Contact: "rubber", Deck: "wood", State: "dry"}, 0.4},
		{Rubbing{Contact: "rubber", Deck: "steel", State: "wet"}, 0.3},
		{Rubbing{Contact: "rubber", Deck: "wood"}, 0.3},
		{Rubbing{Contact: "rubber"}, 0.3},
		{Rubbing{Contact: "rubber", State: "slick"}, 0.1},
		{Rubbing{Contact: "steel"}, 0},
		{Rubbing{Contact: "steel", Deck: "wood"}, 0.2},
		{Rubbing{Contact: "steel", Deck: "steel", State: "dry"}, 0.1},
		{Rubbing{Contact: "mat", Deck: "wood"}, 0.5},
		{Rubbing{Contact: "mat", State: "slick"}, 0.2},
		{Rubbing{Contact: "wood", Deck: "steel"}, 0.15},
		{Rubbing{Deck: "steel"}, 0.2},
		{Rubbing{Contact: "gravel"}, 0},
	} {
		if got := Friction(c.told); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v: %v, want %v", c.told, got, c.want)
		}
	}
}

func TestMechanics_isWhatTheSectionSays(t *testing.T) {
	m := MechanicsFigures()
	if m.Federal != (Performance{0.435, 0.5, 0.25, "49 CFR 393.102(a)(2)"}) {
		t.Errorf("%+v", m.Federal)
	}
	if m.Canada != (Performance{0.8, 0.5, 0.5, "Quebec C-24.2 r.30 s.3"}) {
		t.Errorf("%+v", m.Canada)
	}
}
