package talk

import "halfweight/parser"

// house keeps house. Undo drops the last turn of the load: never the trip, the
// units or the gear.
func (t *turn) house(h *parser.House) {
	switch h.Word {
	case "undo":
		t.undo()
	case "new load":
		t.say(Done{What: "new load"})
		t.touched, t.settled = true, true
		if len(t.load.Articles) > 0 {
			t.clear()
		}
	case "units":
		t.did = true
		if t.s.Units = ""; h.Arg == "kg" {
			t.s.Units = "kg"
		}
		t.r.Units = t.s.units()
		t.say(Done{What: "units", Words: t.r.Units})
	case "rules":
		t.rulesOf(h.Arg)
	case "help":
		t.answered = true
		t.say(Help{Topic: h.Arg})
	case "forget me":
		t.confirm(Confirm{Do: "forget", Event: t.event})
		t.say(Done{What: "forget"})
	case "history":
		t.history()
	case "export":
		t.export()
	default: // more
		t.answered = true
		if t.s.Rest == "" {
			t.cannot("no more")
			return
		}
		t.say(More{Text: t.s.Rest})
	}
}

func (t *turn) undo() {
	t.touched, t.settled, t.undone = true, false, true
	if len(t.edits) > 0 {
		t.edits = nil // of this message
		for _, p := range t.pieces {
			t.s.putPiece(p.ID, p.Was)
		}
		t.pieces = nil
	} else if len(t.s.Turns) > 0 {
		t.r.bringBack(t.s.dropTurn())
	} else {
		t.did = true
		t.touched = len(t.load.Articles) > 0
		t.say(Done{What: "nothing to undo"})
		return
	}
	t.load = t.s.load()
	t.s.reopen()
	t.remember()
	t.say(Done{What: "undo"})
}
