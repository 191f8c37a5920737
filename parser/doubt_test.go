package parser

import (
	"fmt"
	"strings"
	"testing"

	"halfweight/rules/load"
)

// notDone are ways to say that something is not done, or may not be: denied,
// wished, planned, doubted, remembered, asked.
var notDone = []string{
	"not %s", "%s not", "never %s", "%s? no", "%s not yet", "isn't %s", "is not %s", "no longer %s", "not %s any more",
	"will be %s", "should be %s", "could be %s", "would be %s", "might be %s", "may be %s", "must be %s", "needs to be %s", "has to be %s", "going to be %s", "gonna be %s", "supposed to be %s", "about to be %s", "to be %s", "ought to be %s",
	"maybe %s", "probably %s", "%s i think", "%s maybe", "%s i guess", "pretty sure its %s", "not sure its %s", "dunno if its %s", "i hope its %s", "%s hopefully", "%s if i remember",
	"used to be %s", "%s yesterday but not now", "%s last time", "%s tomorrow", "%s later", "%s next stop", "%s after lunch", "almost %s", "half %s", "nearly %s", "partly %s",
	"can't be %s", "cannot be %s", "won't be %s", "wont stay %s", "trying to get it %s", "forgot to get it %s", "needs %s", "want it %s", "if it was %s", "unless %s", "instead of %s", "without being %s", "only half %s",
}

func TestRead_aPartNotHeldIsNotReadAsHeld(t *testing.T) {
	for _, part := range []string{"bucket", "boom"} {
		for _, held := range []string{"chained", "tied down"} {
			for _, way := range notDone {
				text := "40000 lb excavator, 4x 1/2 g70 direct, " + part + " " + fmt.Sprintf(way, held)
				m := Read(text)
				if m.Grave {
					continue
				}
				for _, act := range m.Acts {
					d, ok := act.(Describe)
					if !ok {
						continue
					}
					for _, p := range d.Articles[0].Parts {
						if p.Tied == load.Yes {
							t.Errorf("%q is read as %s", text, reading(m))
						}
					}
				}
			}
		}
	}
}

func TestRead_aJointNotLockedIsNotReadAsLocked(t *testing.T) {
	for _, way := range notDone {
		for _, told := range []string{"joint %s", "the joint is %s", "lock bar %s"} {
			held := "locked"
			if strings.HasPrefix(told, "lock bar") {
				held = "in"
			}
			text := "14000 lb roller, 4x 3/8 g70 direct, " + fmt.Sprintf(told, fmt.Sprintf(way, held))
			m := Read(text)
			if m.Grave {
				continue
			}
			for _, act := range m.Acts {
				if d, ok := act.(Describe); ok && d.Articles[0].Joint.Locked == load.Yes {
					t.Errorf("%q is read as %s", text, reading(m))
				}
			}
		}
	}
}

func TestRead_aTieDownNotOnIsNotCounted(t *testing.T) {
	for _, way := range []string{
		"should i add %s", "should i add %s?", "is %s enough", "is %s enough?", "do i need %s", "do i need %s?", "need %s", "i need %s", "needs %s", "if i add %s", "if i had %s", "could add %s", "could i add %s?", "can i add %s?", "will put %s on", "would %s do?", "would %s help",
		"planning on %s", "going to add %s", "want to add %s", "want %s", "thinking of %s", "what about %s", "what about %s?", "how about %s?", "maybe add %s", "might add %s", "forgot %s", "forgot to put %s on", "without %s", "no %s", "not %s", "instead of %s", "except %s", "minus %s", "never had %s", "had %s", "used to have %s", "last time i had %s",
		"took %s off", "%s came off", "%s not on yet", "%s still to go on", "%s in the box", "%s on the truck", "%s as a spare", "spare: %s", "missing %s", "lost %s", "boss wants %s", "is that like %s?", "what does %s hold?", "what does %s count for",
	} {
		text := "14000 lb roller, lock bar in, 4x 3/8 g70 direct, " + fmt.Sprintf(way, "one 1/2 g80 over")
		m := Read(text)
		if m.Grave {
			continue
		}
		gone := strings.Contains(reading(m), " -> ") // set aside by a change
		for _, act := range m.Acts {
			d, ok := act.(Describe)
			if !ok {
				continue
			}
			for _, a := range d.Articles {
				for _, x := range a.Ties {
					if x.Grade.Value == "80" && x.State.Gone == "" && !gone {
						t.Errorf("%q is read as %s", text, reading(m))
					}
				}
			}
		}
	}
}
