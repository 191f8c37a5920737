package parser

import "testing"

// The keys are those of ITU-T E.161 (7 is p q r s, 9 is w x y z).
func TestKeypad_findsWhatElseTheKeysSpell(t *testing.T) {
	for w, want := range map[string]struct {
		word  string
		grave bool
	}{
		"pear": {"rear", true}, "mood": {"none", true}, "cent": {"bent", true}, "home": {"gone", true},
		"honk": {"hook", true}, "nod": {"one", true}, "rear": {"", false}, "florped": {"", false}, "go": {"", false}, "x1y": {"", false},
	} {
		if word, grave := english().keys.others(w); word != want.word || grave != want.grave {
			t.Errorf("%q may be %q (grave: %v), want %q (%v)", w, word, grave, want.word, want.grave)
		}
	}
}

// "No" and "on" have the same keys: where "on" makes no sense, it holds the load open.
func TestRead_anOnThatMayBeANoIsGrave(t *testing.T) {
	for text, want := range map[string]bool{
		"4x 3/8 g70 direct, on binders": true, "4x 3/8 g70 direct (on binders)": true, "4x 3/8 g70 direct, on stamps on any of them": true,
		"4x 3/8 g70 direct, one has on binder": true, "4x 3/8 g70 direct, one of them is on good": true, "4x 3/8 g70 direct, on lock on the joint": true,
		"4x 3/8 g70 direct, on chain 7": false, "4x 3/8 g70 direct, 9200 stamped on the binders": false, "14000 lb roller on lowboy, 4x 3/8 g70 direct on corners": false,
	} {
		if m := Read(text); m.Grave != want {
			t.Errorf("%q: grave %v, unread %+v", text, m.Grave, m.Unread)
		}
	}
}

// A word that a keypad makes of a grave one is neither read as it nor put right to
// a third that says nothing.
func TestRead_whatAKeypadMakesOfAWordIsUnreadAndGrave(t *testing.T) {
	for text, like := range map[string]string{
		"none of them are on yet, 4x 3/8 g70 direct": "",
		"mood of them are on yet, 4x 3/8 g70 direct": "none",
		"4x 3/8 g70 direct, 2 front 2 pear":          "rear",
		"4x 3/8 g70 direct, one strap is but":        "",
		"4x 3/8 g70 direct, on binders":              "",
	} {
		m := Read(text)
		got := ""
		for _, u := range m.Unread {
			got += u.Like
		}
		if got != like || like != "" && !m.Grave {
			t.Errorf("%q: unread %+v, grave %v, want %q asked after", text, m.Unread, m.Grave, like)
		}
	}
}
