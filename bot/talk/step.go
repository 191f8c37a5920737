// Package talk decides what a message does to a chat's state and what there is
// to say to it. It is pure: no words of any language, no clock, no files. Start
// with Step.
//
// A message's acts are resolved once, against the load in hand, into edits that
// name everything by ID; the state keeps the edits of the last turns and the
// load is their fold. Package render says the replies.
package talk

import (
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// quoted is how much of a message that is too long is given back, in code points.
const quoted = 60

// Event is one message of a chat.
type Event struct {
	ID      string // the transport's own
	Text    string
	Edits   string // the event whose message was changed into this text; "" for a new one
	First   bool   // with Edits: that message did not come here before
	Pressed string // the event whose reply carried the button pressed; "" for none
	Past    []Past // the past loads, oldest first, where Reply.Recall asked for them
	Keyword string // "stop", "start" or "help": the whole message is a carrier's word
	Part    Part   // the text is one part of a message split on the way
	Other   string // what came beside the text or in place of it: "picture"; "" for nothing
}

// message is the event of the message itself, which an edit is about.
func (e *Event) message() string {
	if e.Edits != "" {
		return e.Edits
	}
	return e.ID
}

// Verdicts of a reply beside those of a load (rules.Verdict).
const (
	verdictAnswer = "answer"
	verdictDone   = "done"
	verdictUnread = "unread"
)

// Step is what one message does: the state after it and the reply. It answers
// every input and does not change s. now is used for what is due on the road.
func Step(s State, e Event, now time.Time) (State, Reply) {
	if e.Keyword != "" || s.Quiet {
		return stepKeyword(s, e)
	}
	if e.Part.Of <= 1 && IsRecord(e.Text) {
		return stepRecord(s, e, now)
	}
	if len(e.Text) > parser.MaxLength {
		if n := utf8.RuneCountInString(e.Text); n > parser.MaxLength {
			r := refused(&s, e.Text, Cannot{Why: "too long", Length: n})
			r.Unread = []parser.Span{{Text: firstOf(e.Text, quoted)}}
			return s, r
		}
	}
	if e.Part.Of > 1 {
		var whole bool
		if s, e.Text, whole = s.join(e.Part, e.Text, now); !whole {
			return s, Reply{Text: e.Text, Verdict: verdictDone, Rules: s.Rules, House: s.House, Units: s.units(), Silent: true}
		}
		e.Part = Part{}
		return Step(s, e, now)
	}
	if strings.TrimSpace(e.Text) == "" {
		if e.Other != "" {
			return s, refused(&s, e.Text, Cannot{Why: "not words", Words: e.Other})
		}
		return s, refused(&s, e.Text, Cannot{Why: "empty"})
	}
	if e.Pressed != "" && (s.Asked == nil || s.Asked.Event != e.Pressed) && (s.Confirm == nil || s.Confirm.Event != e.Pressed) {
		return s, refused(&s, e.Text, Cannot{Why: "settled"})
	}
	msg := parser.Read(e.Text)
	var undone Turn
	if e.Edits != "" {
		why := ""
		if undone, why = s.takeBack(&e, &msg); why != "" {
			return s, refused(&s, e.Text, Cannot{Why: why})
		}
	}
	s, lost := s.giveUp(now)
	s, r := stepMessage(s, e, msg, now)
	r.bringBack(undone)
	if lost != "" {
		r.Says = append([]Say{Cannot{Why: "part lost", Words: lost}}, r.Says...)
	}
	return s, r
}

// stepRecord is Step with a record, or other JSON.
func stepRecord(s State, e Event, now time.Time) (State, Reply) {
	s.V, s.Confirm, s.Held = version, nil, nil
	t := turn{s: s, now: now, msg: &parser.Message{Text: e.Text}, set: s.set(), load: s.load()}
	t.r = Reply{Text: e.Text, Rules: s.Rules, House: s.House, Units: s.units()}
	t.offer(e.Text, e.message())
	t.s.Last = e.message()
	if len(t.load.Articles) > 0 && t.r.Verdict == verdictAnswer {
		t.r.LoadVerdict = t.standing()
	}
	return t.s, t.r
}

// refused is the reply to a message that was not read.
func refused(s *State, text string, why Cannot) Reply {
	return Reply{Text: text, Verdict: verdictUnread, Rules: s.Rules, House: s.House, Units: s.units(), Says: []Say{why}}
}

func firstOf(s string, n int) string {
	for i := range s {
		if n == 0 {
			return s[:i]
		}
		n--
	}
	return s
}

func (s *State) units() string {
	if s.Units == "" {
		return "lb"
	}
	return s.Units
}

// turn is one message being worked out, act by act.
type turn struct {
	s    State
	now  time.Time
	set  rules.Set // in force
	msg  *parser.Message
	load load.Load // as it stands
	past []Past
	r    Reply

	edits  []Edit     // done so far
	pieces []PieceWas // of the gear, changed so far
	spoken []int      // tie-downs last spoken of
	them   bool       // they were, in this message, in the plural and for what comes after
	hand   int        // article last spoken of

	touched  bool // the message is about the load: a load, a change, an undo
	settled  bool // it told something of the load beside a bare answer
	answered bool // it asked something
	did      bool // it did something else
	lost     bool // it told something of a load and none is in hand
	asks     []parser.Ask
	road     []parser.Road
	taken    *Which       // of this message
	held     *parser.Hold // the question of hold that the last message was
	added    bool         // tie-downs are told as added
	undone   bool         // it took back a turn

	event      string // of the message
	openBefore bool   // State.Open before it
}

// stepMessage is Step with the message read.
func stepMessage(s State, e Event, msg parser.Message, now time.Time) (State, Reply) {
	s.V = version
	t := turn{s: s, now: now, msg: &msg, set: s.set(), load: s.load(), past: e.Past, event: e.message(), openBefore: s.Open, held: s.Held}
	t.s.Held = nil
	t.r = Reply{Text: e.Text, Rules: s.Rules, House: s.House, Units: s.units(), Unread: msg.Unread, Grave: msg.Grave, Replaces: e.Edits != ""}
	t.remember()

	c := s.Confirm
	if t.s.Confirm = nil; c != nil && (e.Pressed == "" || e.Pressed == c.Event) && t.confirmed(c) {
		msg.Acts = nil
	}
	for _, act := range inOrder(msg.Acts, len(t.load.Articles) > 0) {
		t.do(act)
	}
	t.conclude(e.message())
	if n := len(t.s.Turns); n > 0 && len(t.edits) > 0 && t.s.Turns[n-1].Event == e.message() {
		t.s.Turns[n-1].Words = words(e.Text)
	}
	if e.Pressed == "" {
		t.s.Last = e.message()
	}
	if e.Other != "" {
		t.say(Cannot{Why: "words only", Words: e.Other})
	}
	return t.s, t.r
}

// inOrder puts a change told ahead of the load that it is about ("front left
// popped off. 4 3/8 g70 direct, 11k roller") behind it.
func inOrder(acts []parser.Act, inHand bool) []parser.Act {
	at := -1
	for i, act := range acts {
		d, ok := act.(parser.Describe)
		if ok && !d.Add && len(d.Articles) > 0 && (named(&d.Articles[0]) || !inHand) {
			at = i
			break
		}
	}
	var early, rest []parser.Act
	for i, act := range acts {
		if _, change := act.(parser.Change); change && i < at {
			early = append(early, act)
			continue
		}
		rest = append(rest, act)
		if i == at {
			rest = append(rest, early...)
		}
	}
	if len(early) == 0 {
		return acts
	}
	return rest
}

func (t *turn) do(act parser.Act) {
	switch act := act.(type) {
	case parser.Describe:
		t.describe(&act)
	case parser.Same:
		t.sameThere(&act)
	case parser.Change:
		t.change(&act)
	case parser.Answer:
		t.answer(&act)
	case parser.Gear:
		t.gear(&act)
	case parser.House:
		t.house(&act)
	case parser.HouseRule:
		t.houseRule(&act)
	case parser.Ask:
		t.asks = append(t.asks, act)
	case parser.Road:
		t.road = append(t.road, act)
		if act.Word == "delivered" && len(t.load.Articles) > 0 {
			t.settled = true
			t.clear() // undo brings it back, not the trip
		}
	}
}

// edit does one edit and keeps it.
func (t *turn) edit(e Edit) {
	e.apply(&t.load)
	t.edits = append(t.edits, e)
	t.touched, t.them = true, false
	if e.Set != nil && e.Set.Tag != "" && e.Do == "" {
		t.asPiece(e.IDs)
	}
	switch {
	case len(e.IDs) > 0:
		t.spoken = e.IDs
		if a, _ := find(&t.load, e.IDs[0]); a != nil {
			t.hand = a.ID
		}
	case e.Article != nil:
		t.hand = e.Article.ID
		if n := len(e.Article.Ties); n > 0 {
			t.spoken = lastLine(e.Article.Ties)
		}
	}
}

// lastLine is the IDs of those told in the last clause.
func lastLine(ties []load.TieDown) []int {
	var list []int
	for i := range ties {
		if ties[i].Line == ties[len(ties)-1].Line {
			list = append(list, ties[i].ID)
		}
	}
	return list
}

// remember finds what was last spoken of in the turns before.
func (t *turn) remember() {
	t.spoken, t.hand = nil, 0
	for i := len(t.s.Turns) - 1; i >= 0; i-- {
		edits := t.s.Turns[i].Edits
		for j := len(edits) - 1; j >= 0; j-- {
			e := &edits[j]
			switch {
			case e.Article != nil:
				if t.hand == 0 {
					t.hand = e.Article.ID
				}
				if t.spoken == nil && len(e.Article.Ties) > 0 {
					t.spoken = lastLine(e.Article.Ties)
				}
			case len(e.IDs) > 0:
				if a, _ := find(&t.load, e.IDs[0]); a != nil && t.hand == 0 {
					t.hand = a.ID
				}
				if t.spoken == nil {
					t.spoken = e.IDs
				}
			}
			if e.Clear || t.hand != 0 && t.spoken != nil {
				return
			}
		}
	}
}

// inHand is the article that facts told without a noun are about: the one last
// spoken of; nil without a load.
func (t *turn) inHand() *load.Article {
	n := len(t.load.Articles)
	for i := range t.load.Articles {
		if t.load.Articles[i].ID == t.hand {
			return &t.load.Articles[i]
		}
	}
	if n == 0 {
		return nil
	}
	return &t.load.Articles[n-1]
}

func (t *turn) newID() int {
	t.s.NextID++
	return t.s.NextID
}

func (t *turn) say(s Say) { t.r.Says = append(t.r.Says, s) }

// cannot says why an act was not done. Told that something is worse than it
// was, the load is not called while it is not known of what.
func (t *turn) cannot(why string) { t.say(Cannot{Why: why, Words: strings.TrimSpace(t.r.Text)}) }

// conclude judges the load, answers what was asked and picks the one question.
func (t *turn) conclude(event string) {
	report := Judge(t.load, t.set, t.spare(&t.load)...)
	inHand := len(t.load.Articles) > 0
	if t.touched && t.r.Grave && len(t.r.Unread) == 0 {
		t.cannot("two ways")
	}
	t.unread(inHand)
	if len(t.edits) > 0 {
		t.noteBook()
		turn := Turn{Event: event, Edits: t.edits, Open: t.s.Open, At: t.now, Pieces: t.pieces}
		t.putAway(&turn)
		t.s.keep(turn)
	} else if t.s.Open && !t.openBefore && !t.undone {
		t.s.keep(Turn{Event: event, Open: true, At: t.now, Pieces: t.pieces}) // undo takes back the doubt alone
	}
	stands := ""
	if inHand {
		stands = t.capped(report.Verdict)
	}
	for i := range t.asks {
		if t.asks[i].Topic == "hold" && t.holdsLater(i) {
			continue
		}
		t.ask(&t.asks[i], &report)
	}
	for i := range t.road {
		t.onRoad(&t.road[i])
	}
	switch {
	case t.touched && inHand:
		t.r.Verdict = stands
		t.r.Report, t.r.ByLaw = &report, t.byLaw(&report)
		t.r.Assumed = t.assumed()
		t.question(&report, event)
	case t.touched:
		t.r.Verdict = verdictDone
		t.s.Asked, t.s.Which, t.s.Tries = nil, nil, nil
	case len(t.asks) > 0 || t.answered:
		t.r.Verdict, t.r.LoadVerdict = verdictAnswer, stands
	case t.did || len(t.road) > 0:
		t.r.Verdict, t.r.LoadVerdict = verdictDone, stands
	case t.lost:
		t.r.Verdict = string(rules.VerdictUnsettled)
	default:
		t.r.Verdict = verdictUnread
		switch {
		case len(t.r.Says) > 0:
		case onlySigns(t.msg):
			t.cannot("empty")
		default:
			t.cannot("nothing read")
		}
		if len(t.r.Unread) == 0 {
			text := strings.TrimSpace(t.r.Text)
			at := utf8.RuneCountInString(t.r.Text[:strings.Index(t.r.Text, text)])
			t.r.Unread = []parser.Span{{Text: text, At: at}}
		}
	}
}

// onlySigns says whether a message has neither a word nor a figure: a thumb, dots.
func onlySigns(msg *parser.Message) bool {
	return !slices.ContainsFunc(msg.Tokens, func(t parser.Token) bool {
		return !slices.Contains([]string{"decor", "stop", "ask", "sep", "line"}, t.Kind)
	})
}

// unread keeps the load open where a message had words unread that could change
// the answer, or told something that could not be laid on the load. A bare
// answer or a word from the road does not settle that.
func (t *turn) unread(inHand bool) {
	before := inHand && t.s.Open && !t.settled
	nothing := len(t.asks) == 0 && len(t.road) == 0 && !t.answered && !t.did
	t.r.Doubt = t.r.Doubt || inHand && t.faulted()
	t.s.Open = inHand && (t.r.Doubt || (t.touched || nothing) && t.r.Grave) || before
	t.s.OpenOf = t.s.Open && (t.r.Grave && (t.touched || ofFitting(t.msg)) || before && t.s.OpenOf)
	if before {
		t.r.Doubt = true
		if t.touched {
			t.cannot("still unread")
		}
	}
}

// harmTold is how a question tells what is not as it was: "lock bar is missing do i
// need it", "only 2 binders is that enough".
var harmTold = regexp.MustCompile(`(?i)[a-z0-9] (is|are|was|got|came) (missing|gone|broken?|bent|cracked|out|cut)( |,|$)|^only \d`)

// faulted says whether a question tells of a harm to the load in hand, or what an
// inspector finds of it: "inspector says one hook is no good".
func (t *turn) faulted() bool {
	says := func(q parser.Ask) bool {
		words := strings.Fields(strings.ToLower(q.Words))
		k := slices.IndexFunc(words, func(w string) bool {
			return slices.Contains([]string{"inspector", "officer", "cop", "dot", "trooper"}, w)
		})
		return k >= 0 && k+1 < len(words) && (words[k+1] == "says" || words[k+1] == "said")
	}
	told := func(q parser.Ask) bool {
		return harmTold.MatchString(q.Words) && !strings.Contains(" "+strings.ToLower(q.Words), " if ")
	}
	if slices.ContainsFunc(t.asks, told) {
		return true
	}
	fact := func(k parser.Token) bool { return k.Owner == parser.OwnFact }
	return slices.ContainsFunc(t.asks, says) && slices.ContainsFunc(t.msg.Tokens, fact)
}

// ofFitting says whether a message speaks of a part, a lock or what a tie-down is
// fitted with.
func ofFitting(msg *parser.Message) bool {
	return slices.ContainsFunc(msg.Tokens, func(t parser.Token) bool {
		return slices.Contains([]string{"hook", "tens", "ring", "link", "lock", "joint", "part"}, t.Kind)
	})
}

// standing is how the load in hand stands, by the words of the messages before.
func (t *turn) standing() string {
	t.r.Doubt = t.s.Open
	v := t.capped(rules.Evaluate(t.load, t.set).Verdict)
	t.r.Doubt = false
	return v
}

// asPiece fills tie-downs told to be marked pieces in from the list.
func (t *turn) asPiece(told []int) {
	for _, id := range told {
		if a, i := find(&t.load, id); a != nil {
			x := a.Ties[i]
			if t.completePiece(&x) {
				t.edit(Edit{IDs: []int{id}, Do: Restore, Set: &x})
			}
		}
	}
}

// capped is a load's verdict, unsettled at best where something told is not in
// it. While it is not known which tie-down is off, none is covered.
func (t *turn) capped(v rules.Verdict) string {
	switch {
	case v == rules.VerdictCovered && (t.taken != nil && (t.taken.ID != 0 || t.taken.Tag != "") || t.stillWhich()):
		t.r.Doubt = true
		v = rules.VerdictUnsettled
	case (t.r.Grave || t.r.Doubt) && v != rules.VerdictShort:
		v = rules.VerdictUnsettled
	}
	return string(v)
}
