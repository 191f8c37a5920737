package talk

import (
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
	Units       string        // "lb" or "kg": the chat's
	Report      *rules.Report // the load judged, where the message is one or changes one; else nil
	Assumed     []Assumed     // taken for granted in reading, beside the report's own
	Unread      []parser.Span
	Grave       bool // something unread could have changed the answer
	Ask         *Question
	Says        []Say // beside the verdict, in order: what was done, answers, warnings
}

// Assumed is something taken for granted while reading or completing the message.
type Assumed struct {
	Code  string        // "pounds", "count-one", "from-gear", "fewer-in-gear"
	IDs   []int         // tie-downs it is about
	Mass  load.Mass     // with "pounds": the weight
	Tie   *load.TieDown // with "from-gear", "fewer-in-gear": the kind
	Count int           // with "fewer-in-gear": what the gear holds
}

// Question is the one open question, answerable in a word.
type Question struct {
	Key     string   // rules.Finding.Ask, or one of talk's own ("which one", "how many", "units", "size")
	Article int      // article ID; 0 none
	Name    string   // the article's word, for print
	Subject string   // the accessory's word, the tie-down word
	Part    string   // the accessory's key
	IDs     []int    // tie-downs it is about
	Options []string // answers that can be tapped or typed: keys ("yes", "no", "unknown", "locked", ...) or words
	Asked   int      // how often it was asked before
}

// Say is one thing to say beside the verdict.
type Say interface{ say() }

// Done acknowledges what the message did.
type Done struct {
	What  string // "new load", "undo", "nothing to undo", "gear", "gear less", "machine", "anchor", "units", "forgotten", "rolling", "stopped", "checked", "at", "delivered", ...
	Words string
	Gear  []GearRow
	Miles float64
}

// GearRow is one kind of tie-down this chat owns.
type GearRow struct {
	Count int
	Tie   load.TieDown
}

// Plain is a short answer to a question from the topics, by key.
type Plain struct{ Topic string }

// Rating answers what a tie-down is rated ("3/8 g70?") or a lone set is good for.
type Rating struct {
	Count *rules.Count // the set judged as an article of untold weight
}

// Compare answers which of two kinds is rated higher.
type Compare struct{ A, B load.TieDown }

// HowMany answers how many of a kind a weight takes.
type HowMany struct {
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

// When answers when to look at the load again.
type When struct {
	Rolling     bool
	Miles, Next float64 // odometer of the trip in miles, and where the next look is due
}

// Help shows what can be sent.
type Help struct{ Topic string }

// Cannot says kindly why something was not done: a change with no load, a
// reference that fits nothing or too much.
type Cannot struct {
	Why    string // "no load", "no such tie-down", "which of several", "too long", "empty", "nothing read", "no such machine", "gear which"
	Words  string
	Length int // with "too long": code points sent
}

func (Done) say()    {}
func (Plain) say()   {}
func (Rating) say()  {}
func (Compare) say() {}
func (HowMany) say() {}
func (Wear) say()    {}
func (WhatIf) say()  {}
func (Need) say()    {}
func (Why) say()     {}
func (When) say()    {}
func (Help) say()    {}
func (Cannot) say()  {}
