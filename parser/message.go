package parser

import "halfweight/rules/load"

// Message is what was read from one text: the acts in the order told, every
// token with its one owner, and what is left unread.
type Message struct {
	Text   string
	Acts   []Act
	Tokens []Token
	Unread []Span
	// Grave says that something unread could have changed the answer: a figure,
	// a negation, a tie-down word or a defect word. No load is covered on it.
	Grave bool
}

// Span is a piece of the text as sent. At counts code points. Like is the word of the
// trade that a phone's keys would spell as this one, where it is unread and there is
// one.
type Span struct {
	Text string
	At   int
	Like string
}

// Owner says what became of a token. Every token has exactly one.
type Owner string

// The owners.
const (
	OwnFact   Owner = "fact"   // it gave a fact of an act
	OwnPhrase Owner = "phrase" // it belongs to a phrase that was understood
	OwnFiller Owner = "filler" // it stands on the written list of words that say nothing
	OwnUnread Owner = "unread"
)

// Token is one token of the text as sent, with its owner.
type Token struct {
	Span
	Kind  string
	Owner Owner
}

// Act is one thing a message does: Describe, Same, Change, Gear, Ask, Road, House,
// HouseRule or Answer.
type Act interface{ act() }

// Describe tells facts of articles, the first article first. An article with
// Kind "" and Name "" is the one in hand: its facts are to be laid over it, its
// tie-downs added to it. IDs are all zero; whoever keeps the load gives them.
type Describe struct {
	Add      bool // told with "add", "also": joins the load in hand, never replaces it
	Definite bool // the article is told as one known already ("the roller ...", "machine 12 ...")
	Articles []Article
}

// Article is an article as told, with what only talk can settle.
type Article struct {
	load.Article
	Machine string // told by its name in this chat: "machine 12" is "12"
	Lines   []Line // how its tie-downs were told, one entry per load.TieDown.Line in Ties
	Replace bool   // its tie-down counts replace those in hand ("make that 5")
}

// Line is one clause of tie-downs as told.
type Line struct {
	Count int  // pieces told; 1 when none was told
	Told  bool // the count was told
	Named bool // material, size or grade was told: not only "one at the front"
}

// Change changes tie-downs told earlier, in this message or before it.
type Change struct {
	Ref  Ref
	Edit Edit
}

// Ref points at tie-downs by what they are like. The zero Ref is "it": the one
// last spoken of (for Tightened: the one last set aside).
type Ref struct {
	Which Which
	Count int          // with Some and Last; 0 is not told
	Like  load.TieDown // facts told that it must fit: material, size, grade, route, place, tag
	Kind  string       // the article's kind it was told of ("the one on the dozer"), "" not told
	Lacks bool         // those that lack the fact the Edit gives ("they are 3/8 g70", "binders 9200")
}

// Which says how many of the ones that fit are meant.
type Which string

// The ways to point.
const (
	It   Which = ""     // "it", or nothing said
	Some Which = "some" // "one is loose", "two of them": Count of those that fit
	Last Which = "last" // "the last two": the Count told last
	All  Which = "all"  // "the straps", "they", "both"
	Rest Which = "rest" // "the others", "the rest"
)

// Edit is what a Change does; zero fields are left alone.
type Edit struct {
	Set       load.TieDown // facts told now: size, grade, mark, tensioner, hook, anchor, route, place, state.NoGuard, state.NoTag, state.Sound
	Loose     bool
	Tightened bool
	Replaced  bool
	Part      string // with Replaced: no more than that part of it was: "binder", "hook"
	Damage    []load.Damage
	Gone      string // "came off", "lost", "taken off"
	Unmarked  string // a part told to bear no tag or mark, so that its rating cannot be read: "binder", "ratchet", "hook"
	Back      bool   // put on again
	Count     int    // corrected number of pieces ("make that 5", "no wait 4"); 0 untold
}

// Gear is about what this chat owns.
type Gear struct {
	Do      string // "set", "add", "less", "show", "anchor", "machine"
	Lines   []Line
	Ties    []load.TieDown // one per line, its count in Lines
	Anchor  load.Mass      // with "anchor": the trailer's anchor rating
	Tags    []string       // the crew's marks of the pieces it is about ("chain 7"), their kind in Ties
	Machine string         // with "machine": its name in this chat
	Article load.Article   // with "machine": what it is
}

// Ask is a question. Nothing in it changes the load.
type Ask struct {
	Topic   string   // key of the question: "how many", "compare", "what is", "good for", "what if", "need", "plan", "why", "wear", "when", "hold", or a key of the topics ("boom lock")
	Words   string   // the question as sent
	Else    string   // with "what if": the topic that answers it while no load is in hand; "" none
	Near    []string // with "unknown": phrases that ask for the topics nearest to it, nearest first
	Lines   []Line
	Ties    []load.TieDown // tie-downs asked about, one per line
	Weight  load.Weight    // weight asked about
	Article load.Article   // article asked about, when one was named
	Change  *Change        // with "what if"
	Hold    Hold           // with "hold"
	Plan    *Plan          // with "plan", and with "need" where what is needed can be planned
}

// Plan is how a plan is asked for.
type Plan struct {
	Articles []Article      // to be planned for, their tie-downs left out; none: the load in hand
	Spare    bool           // still covered after any single loss
	Exclude  []load.TieDown // kinds not to be used: material, size and grade as far as told
	Material load.Material  // what it is to be made with ("straps for ..."); "" any
	Smallest bool           // the smallest chain that does with so many
	Count    int            // with Smallest: tie-downs, 0 not told
}

// Road is a word from the road.
type Road struct {
	Word  string  // "rolling", "stopped", "checked", "at", "delivered"
	Miles float64 // with "at"
}

// House is house-keeping.
type House struct {
	Word string // "help", "rules", "units", "history", "export", "forget me", "undo", "new load", "more"
	Arg  string // with "units": "kg" or "lb"; with "rules": "canada", "federal" or "" to ask
}

// HouseRule is about the crew's own rules, which tighten those in force.
type HouseRule struct {
	Do      string    // "add", "drop", "show", or "" for one that was not read
	Kind    string    // with "add": "need", "ties", "ends", "webbing", "grade", "rating", "guards"
	Percent int       // with "need"
	Count   int       // with "ties" and "ends"; with "grade" the grade; with "drop" its number in the list, 0 all
	Mass    load.Mass // with "rating"
}

// Answer is a bare word or figure that only an open question gives a meaning.
type Answer struct {
	Word   string    // "yes", "no", "unknown", "locked", "not locked", "tied", "not tied", "down", "up", "loose", "tight", "off", or "" with only a figure
	Figure string    // the bare figure as sent
	Mass   load.Mass // Figure as pounds
	Number int       // Figure as a whole number, 0 when it is not one
	Sorry  bool      // told as a correction ("sorry 12000", "no, 15200", "I mean 4")
}

func (Describe) act()  {}
func (Change) act()    {}
func (Gear) act()      {}
func (Ask) act()       {}
func (Road) act()      {}
func (House) act()     {}
func (HouseRule) act() {}
func (Answer) act()    {}
