package talk

import (
	"time"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// Reply is all there is to say to one message, in meaning and without prose.
// Package render turns it into words and into data.
type Reply struct {
	Text        string        // the message as sent
	Verdict     string        // of the data contract: covered, fix, short, unsettled, answer, done, unread
	LoadVerdict string        // the load's own beside answer and done; "" when none is in hand
	Rules       string        // name of the set in force; "" for the federal one
	House       []rules.House // the crew's own that tighten it
	ByLaw       rules.Verdict // how the load stands by law alone, where only a house rule leaves it short; else ""
	Units       string        // "lb" or "kg": the chat's
	Report      *rules.Report // the load judged, where the message is one or changes one; else nil
	Assumed     []Assumed     // taken for granted in reading, beside the report's own
	Unread      []parser.Span
	Grave       bool // something unread could have changed the answer: Verdict is unsettled at best
	Doubt       bool // something told could not be laid on the load, or was not read in a message before and is still open: Verdict is unsettled at best
	Ask         *Question
	Silent      bool  // nothing is to be said
	Replaces    bool  // it takes the place of the reply to the message that was edited
	Says        []Say // beside the verdict, in order: what was done, answers, warnings

	Log    []PastRecord // past loads to be written to the chat's log, or taken out
	Recall bool         // it rests on the past loads: Step is to be taken again with Event.Past
}

// Assumed is something taken for granted while reading or completing the message.
type Assumed struct {
	Code  string        // "pounds", "count-one", "from-gear", "fewer-in-gear"
	IDs   []int         // tie-downs it is about
	Mass  load.Mass     // with "pounds": the weight
	Tie   *load.TieDown // with "from-gear", "fewer-in-gear": the kind
	Count int           // with "fewer-in-gear": what the gear holds
}

// Question is the one open question, answerable in a word. A bare figure is
// pounds (kilograms in a chat of kilograms) where a mass is asked for, feet
// (metres) where a length is, inches where a size or a measure of damage is.
type Question struct {
	Key     string   `json:"key"`               // rules.Finding.Ask, or talk's own: "which one" of IDs it is, "which piece" of IDs the marked one is, "forget", "restore"
	Article int      `json:"article,omitzero"`  // article ID; 0 none
	Name    string   `json:"name,omitzero"`     // the article's word, where there are several
	Subject string   `json:"subject,omitzero"`  // the accessory's word; with "damage" the measure (rules.Aside.Settle)
	Part    string   `json:"part,omitzero"`     // the accessory's key
	IDs     []int    `json:"ids,omitempty"`     // tie-downs it is about
	Options []string `json:"options,omitempty"` // answers that can be tapped or typed: keys ("yes", "no", "unknown", "locked", ...) or words ("front left", "70")
	Asked   int      `json:"asked,omitzero"`    // how often it was asked before
	Event   string   `json:"event,omitzero"`    // whose reply asked it
}

// Say is one thing to say beside the verdict.
type Say interface{ say() }

// Done acknowledges what the message did.
type Done struct {
	// "new load", "undo", "nothing to undo", "replaced" (a load told without a
	// name took the place of the one in hand), "gear", "gear less", "machine",
	// "anchor", "units", "forget" (asks for the word), "forget not", "forgotten", "restored",
	// "restore not", "rolling", "stopped", "checked", "at",
	// "rules" (another set is in force), "house" (the crew's own rules as they
	// are now), "delivered", "quiet" (nothing is said
	// any more), "speaks" (it is again), "unknown" (an open question was answered with don't know).
	What  string
	Words string    // with "machine" its name, with "units" the unit, with "rules" the set
	Gear  []GearRow // with "gear" and "gear less": all that is left
	Mass  load.Mass // with "anchor", and with "gear" of the trailer's rings
	// With "gear" and "gear less":
	Pieces   []Piece
	Machines []Machine
	Now      time.Time

	When // with the words from the road: as asked right after them
}

// GearRow is one kind of tie-down this chat owns.
type GearRow struct {
	Count int          `json:"count"`
	Tie   load.TieDown `json:"tie"`
	Read  time.Time    `json:"read,omitzero"` // when their stamps or tags were told last; zero: never
}

// Plain is a short answer to a question from the topics, by key.
type Plain struct {
	Topic string
	Near  []string // where there is no such topic: what to ask for the nearest ones
}

// Rating answers what a tie-down is rated ("3/8 g70?") or a lone set is good for.
type Rating struct {
	Count *rules.Count // the set judged as an article of untold weight
}

// Compare answers which of two kinds is rated higher.
type Compare struct{ A, B load.TieDown }

// HowMany answers how many of a kind a weight takes.
type HowMany struct {
	Kind                 string // of the article asked about; "" not told
	Tie                  load.TieDown
	Weight               load.Weight
	Need, WLL            load.Mass
	Direct, Over         int // by the table
	WeakDirect, WeakOver int // with the commonest weaker binders; 0 where they change nothing
	Have                 int // pieces asked about ("will 6 do"); 0 none
	Rating               *rules.Line
}

// Wear answers a question of damage and wear from the tables.
type Wear struct {
	Tie   load.TieDown // with its State.Damage
	Aside *rules.Aside // how the rules take it; nil when it counts
}

// WhatIf is a load judged with a change that is not kept.
type WhatIf struct{ Report *rules.Report }

// Need lists what the load in hand still lacks and what would mend it.
type Need struct{ Report *rules.Report }

// Why explains the last count, rule by rule.
type Why struct {
	Report *rules.Report
	About  string // the one thing asked about ("3300", "four", "short"); "" all of it
}

// When answers when to look at the load again: at Next miles or at By, whichever
// comes first (49 CFR 392.9(b)).
type When struct {
	Rolling     bool      // a trip is under way
	Miles, Next float64   // miles of the trip so far, and at which the next look is due
	By          time.Time // when it is due at the latest; zero while not rolling
	Due         bool      // it is due now: so many miles or hours have passed, or the trip was broken
}

// InForce tells whose rules are in force and the crew's own: Reply.Rules and House.
type InForce struct{}

// Help shows what can be sent; in short, who this is and how to stop it.
type Help struct {
	Topic string
	Short bool
}

// WhichGear asks which of several kinds of gear is meant by what takes some out
// of it. Nothing was changed.
type WhichGear struct {
	Count int // to be taken out
	Kinds []load.TieDown
}

// More is the rest of a reply that had no room for it, as it was worded then.
type More struct{ Text string }

// Cannot says kindly why something was not done. Nothing was changed by it.
type Cannot struct {
	// "no load": a change or a question needs one.
	// "no such tie-down", "which of several": the reference fits none, or too many alike to choose.
	// "no such part": the article is of a kind that has no moving part.
	// "nothing to mend": none on the load is told loose or hurt that this would bring back.
	// "no such machine": this chat has no machine of that name; it is taken as told.
	// "no such piece": no marked piece of that name on the list or the load.
	// "record too long", "record broken", "record foreign", "record later": JSON that
	// cannot be read back. "record loosens", "record rules": it is refused for its rules.
	// "gear fewer": the gear holds fewer.
	// "how many of what": no kind of tie-down, or no weight, to count with.
	// "nothing asked": a bare answer, and no question open. "not an answer": to the open one.
	// "answer beside": a bare answer in a message that says more; text it by itself.
	// "which figure": a correction that fits several figures told.
	// "part unmarked": Words, a binder, ratchet or hook, bears no mark: its rating
	// cannot be read, and it may be the weakest part.
	// "two ways": what was told and denied, or told of some tie-downs in a way
	// that does not say of which.
	// "still unread": part of an earlier message was not read and stays open.
	// "edited late": a message edited after others were counted on it. "edited
	// command": one edited into what is not a load, a change or a question.
	// "settled": a button under a question that is not open any more.
	// "not words", "words only": Words came in place of words, or beside them.
	// "too fast": more messages at once than are taken of one chat.
	// "hold no weight": how many g are held is a share of a weight not told; Words is the article's.
	// "house which": no house rule that is known. "house loosens": it asks less
	// than the law. "house reach": no load could meet it. "house none": no such one is kept.
	// "no more": all was said.
	// "too long", "empty", "nothing read", "fault".
	Why    string
	Words  string // the user's, as sent; with "no such machine" its name
	Length int    // with "too long": code points sent
}

func (Done) say()      {}
func (Plain) say()     {}
func (Rating) say()    {}
func (Compare) say()   {}
func (HowMany) say()   {}
func (Wear) say()      {}
func (WhatIf) say()    {}
func (Need) say()      {}
func (WhichGear) say() {}
func (Why) say()       {}
func (When) say()      {}
func (Help) say()      {}
func (InForce) say()   {}
func (More) say()      {}
func (Cannot) say()    {}
