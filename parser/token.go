package parser

import (
	"strings"

	"halfweight/rules/load"
)

// kind is a token's kind: what the grammar sees. The grammar holds no word, and
// the words no grammar.
type kind uint8

const (
	kNone kind = iota
	// figures
	kNum    // bare number
	kBig    // bare number large enough to be a weight or a rating
	kCount  // 4x, (4)
	kTimes  // x4
	kMass   // 14000 lb
	kSize   // 3/8, 10mm, 2in
	kLength // 18 ft
	kGrade  // g70
	kLabel  // 5/16-3/8
	kMiles  // 140 miles
	kBadFig // a figure that cannot be taken as it stands
	// words
	kKind
	kPart
	kCargo // how a thing that is no machine lies, rides and is kept from rolling
	kLock
	kJoint
	kBends
	kStill
	kWheels
	kState
	kGone
	kLoose
	kTight
	kTighten
	kReplace
	kSound
	kDamage
	kNoGuard
	kGuard
	kRoute
	kEnd
	kNose
	kSide
	kCorner
	kSpread
	kSpreadOne
	kMat
	kTens
	kHook
	kRing
	kLink
	kRated
	kNoMark
	kNoTag
	kUnsure
	kHedge
	kWeigh
	kLong
	kWide
	kBlocked
	kBare
	kNeg
	kWith
	kAnd
	kOr
	kOf
	kFrom
	kTo
	kOn
	kThan
	kEach
	kAll
	kRest
	kLast
	kThem
	kIt
	kExtra
	kBe
	kDet
	kCorrect
	kQuery
	kCmd
	kRoad
	kHaul
	kTail
	kYes
	kNoTens // told that it cannot be tightened on the road
	kFor    // "for": parts a figure from what stands before it
	kDoubt  // told as a wish, a plan or a doubt
	kEdge   // which edge of a strap, which way across a link
	kShare  // a share told in words: "a fifth", "half way across"
	kSpot   // where on a wire rope
	kTaken  // taken already by what was told of its condition
	kPlan   // asks for a plan, or how it is to be
	kSame   // "same on the other side": like those told before
	// the rest
	kSep    // comma, bullet, "|"
	kLine   // new line
	kStop   // end of a sentence
	kAsk    // question mark
	kOther  // a word not known
	kFiller // says nothing
	kDecor  // emoji, quotes, brackets
	kUnit   // a unit with no figure
	kNumber // number words, before they are read
	kGradeWord
	kPlain
	kPercent
	kinds
)

// kindNames are the names of the kinds: the first column of words.csv, the
// symbols of the grammar, and Token.Kind.
var kindNames = map[string]kind{
	"num": kNum, "big": kBig, "count": kCount, "times": kTimes, "mass": kMass, "size": kSize, "length": kLength,
	"gradefig": kGrade, "label": kLabel, "miles": kMiles, "badfig": kBadFig,
	"kind": kKind, "part": kPart, "cargo": kCargo, "lock": kLock, "joint": kJoint, "bends": kBends, "still": kStill, "wheels": kWheels,
	"state": kState, "gone": kGone, "loose": kLoose, "tight": kTight, "tighten": kTighten, "replace": kReplace,
	"sound": kSound, "damage": kDamage, "noguard": kNoGuard, "guard": kGuard, "route": kRoute, "end": kEnd, "nose": kNose,
	"side": kSide, "corner": kCorner, "spread": kSpread, "spreadone": kSpreadOne, "mat": kMat, "tens": kTens,
	"hook": kHook, "ring": kRing, "link": kLink, "rated": kRated, "nomark": kNoMark, "notag": kNoTag, "unsure": kUnsure,
	"hedge": kHedge, "weigh": kWeigh, "long": kLong, "wide": kWide, "blocked": kBlocked, "bare": kBare, "neg": kNeg,
	"with": kWith, "and": kAnd, "or": kOr, "of": kOf, "from": kFrom, "to": kTo, "on": kOn, "than": kThan, "each": kEach,
	"all": kAll, "rest": kRest, "last": kLast, "them": kThem, "it": kIt, "extra": kExtra, "be": kBe, "det": kDet,
	"correct": kCorrect, "query": kQuery, "cmd": kCmd, "road": kRoad, "haul": kHaul, "tail": kTail, "yes": kYes, "notens": kNoTens, "taken": kTaken, "doubt": kDoubt, "for": kFor, "plan": kPlan,
	"same": kSame, "edge": kEdge, "share": kShare, "spot": kSpot,
	"sep": kSep, "line": kLine, "stop": kStop, "ask": kAsk, "other": kOther, "filler": kFiller, "decor": kDecor,
	"unit": kUnit, "number": kNumber, "grade": kGradeWord, "plain": kPlain, "percent": kPercent,
}

var kindName = func() (names [kinds]string) {
	for n, k := range kindNames {
		names[k] = n
	}
	return
}()

// tok is one token of a message.
type tok struct {
	kind   kind
	word   string // canonical word; for kSize the size as it is written
	raw    string // the first word as spelt in the text, lower case
	plural bool
	tags   []string // kMat, kTens: the crew's marks of the pieces it names
	glued  bool
	trail  bool        // kCount in brackets: may belong to what stands before it
	num    load.Micro  // kNum, kCount, kTimes, kMiles
	size   load.Length // kSize, kLength
	weight load.Weight // kMass
	figure bool        // stands for a figure, or an unknown thing with one in it
	owner  Owner
	hurt   *load.Damage // kDamage told with its measure
	of     int          // the token, counted from one, that this one's meaning went into
	at     int          // code points before it in the text as sent
	end    int
}

// lock is the lock that a kLock names; in says that the word tells it is in:
// words.csv marks such a word with "!".
func (t *tok) lock() (name string, in bool) { return strings.CutSuffix(t.word, "!") }

// grave says whether leaving this token unread could change the answer.
func (t *tok) grave() bool {
	switch t.kind {
	case kNum, kBig, kCount, kTimes, kMass, kSize, kLength, kGrade, kLabel, kBadFig, kMiles,
		kNeg, kMat, kTens, kHook, kRing, kLink, kNoMark, kNoTag, kUnsure, kRated,
		kGone, kLoose, kDamage, kNoTens, kNoGuard, kRoute, kBare, kNumber, kCorrect, kRest, kDoubt, kHedge, kShare, kCargo, kGradeWord, kState, kEnd, kSide, kCorner, kSpread:
		return true
	}
	return t.figure || t.kind == kCmd && t.word == "make" || t.kind == kQuery && t.word == "better"
}
