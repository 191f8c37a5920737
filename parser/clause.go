package parser

import (
	"strings"

	"halfweight/rules/load"
)

// clause is one clause of tie-downs while it is read: pieces told together.
type clause struct {
	count    int
	told     bool // the count was told
	plural   bool // told in the plural
	named    bool // material, size or grade was told
	tie      load.TieDown
	tags     []string // the crew's marks of its pieces; their number is the count
	places   []load.Place
	routes   int    // different routes told; more than one leaves it untold
	late     bool   // its kind was told behind its place: of the clauses before it too
	one      bool   // told by "a": a count that a number told later takes over
	rest     bool   // "the rest" of the clause before it
	unclear  bool   // something told of it has no place in the count
	ofThem   bool   // "one of them": out of the clause before it
	on       string // part that the words before it say it holds: "bucket chained with ..."
	binders  int    // binders counted for it; -1 not told
	joined   bool   // told right behind "and"
	more     bool   // told as more: "plus 2 at the rear"
	each     bool   // told of each of several like machines
	through  bool   // told through or across, no side told
	leadEach int    // places that "each" told ahead of it names; 0 none
}

func (c *clause) place() *load.Place {
	if len(c.places) == 0 {
		return nil
	}
	return &c.places[len(c.places)-1]
}

// open is the clause being read, made if there is none.
func (r *reader) open() *clause {
	if r.cl == nil {
		r.cl = &clause{binders: -1, joined: r.kindAt(r.back(r.pos-1, kDet)) == kAnd}
		if r.nextOn != "" && r.pos <= r.nextOnBy {
			r.cl.on = r.nextOn
		}
		r.nextOn = ""
		if len(r.lead) > 0 {
			r.cl.leadEach = r.leadEach
		}
		r.cl.places = append(r.cl.places, r.lead...)
		r.lead = nil
	}
	return r.cl
}

// lastClause is the last clause read to its end; nil when there is none.
func (r *reader) lastClause() *clause {
	for k := len(r.arts) - 1; k >= 0; k-- {
		if n := len(r.arts[k].clauses); n > 0 {
			return r.arts[k].clauses[n-1]
		}
	}
	return nil
}

// lastOrOpen is the clause being read, else the last one read.
func (r *reader) lastOrOpen() *clause {
	if r.cl != nil && (r.cl.named || r.cl.told) {
		return r.cl
	}
	return r.lastClause()
}

// namedClause is the last clause that names what it is made of, or may: the one
// being read where it does, else the last one read.
func (r *reader) namedClause() *clause {
	if r.cl != nil && r.cl.named {
		return r.cl
	}
	return r.lastClause()
}

// tiesTold says whether tie-downs were told already.
func (r *reader) tiesTold() bool { return r.cl != nil || r.lastClause() != nil }

// begun says whether anything of a load was told already.
func (r *reader) begun() bool { return r.cl != nil || len(r.arts) > 0 }

// close ends the clause being read and hands it to the article.
func (r *reader) close() {
	c := r.cl
	r.cl = nil
	if c == nil {
		return
	}
	switch {
	case c.leadEach == 0 || !c.named:
	case !c.told || c.count == 1 && !c.one:
		c.count, c.told = c.leadEach, true // "each corner 3/8 g70 direct"
	case c.count == 2:
		c.count = 2 * c.leadEach // "each corner two 3/8 g70"
	}
	a := r.article()
	a.clauses = append(a.clauses, c)
	r.lastPlaceAt = -1
}

// fresh starts a new clause.
func (r *reader) fresh() *clause {
	r.close()
	return r.open()
}

// counted takes a count. Told before the tie-down it leads; "x4" and "(4)"
// trail.
func (r *reader) counted(i int, trails bool) {
	n := int(r.t(i).num / load.One)
	c := r.cl
	if r.t(i).trail && n > mostBare {
		return
	}
	if r.t(i).trail && c != nil && c.told && c.count == n && !c.named {
		r.own(i, OwnPhrase) // "four (4) 3/8 g70"
		return
	}
	if trails && c != nil && c.told {
		return // two counts of one thing: the second stands nowhere
	}
	if !trails && !r.tieAhead(i+1) && !(c != nil && c.named && !c.told) {
		return // "tightened it 2x"
	}
	if c != nil && !c.told && c.named && (trails || r.t(i).trail && !r.coreAhead(i+1)) {
		c.count, c.told = n, true
	} else {
		if c != nil && (c.told || c.named) {
			if c.told && !c.named && r.t(i).kind == kCount && !r.kindAt(i-1).in(kSep, kLine, kStop, kAnd) {
				r.aside = true // "ignore one rear 2x 2in": two counts of one thing
			}
			c = r.fresh()
		} else {
			c = r.open()
		}
		c.count, c.told = n, true
	}
	c.more = r.besides(i)
	r.own(i, OwnFact)
}

// besides says whether the number at i is told as of more pieces than those told
// before: "plus 2 at the rear", "2 more".
func (r *reader) besides(i int) bool {
	before := r.kindAt(i - 1)
	return before.in(kWith, kAnd) && strings.Contains(r.sent(i-1), "plus") || before == kAnd && r.t(i-1).raw == "also" ||
		before == kCmd && r.t(i-1).word == "add" ||
		r.kindAt(i+1) == kExtra && r.t(i+1).raw != "spare"
}

// tieAhead says whether what follows at i can be told of tie-downs.
func (r *reader) tieAhead(i int) bool {
	return r.kindPast(i, 5, kSep, kLine, kDet, kOf, kExtra, kOn, kTaken, kNum, kWith).in(
		kSize, kGrade, kMat, kRoute, kEnd, kSide, kCorner, kSpread, kSpreadOne, kThem, kEach, kGradeWord, kPart, kJoint, kTens, kBadFig, kOther, kPlain, kNoMark, kDamage, kMass, kBig)
}

// coreAhead says whether what comes at i describes a tie-down, so that a count
// before it leads.
func (r *reader) coreAhead(i int) bool {
	return r.kindPast(i, 3, kDet, kOf, kExtra).in(kSize, kGrade, kMat)
}

// brokeSince says whether a separator stands right before i, places aside.
func (r *reader) brokeSince(i int) bool {
	k := r.back(i-1, kEnd, kSide, kCorner, kSpread, kDet, kOn, kBe, kNum, kCount)
	return r.kindAt(k).in(kSep, kLine, kStop, kAnd)
}
