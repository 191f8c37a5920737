package talk

import (
	"slices"
	"strconv"
	"strings"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// answer takes a bare word or figure as the answer to the open question, or a
// correction as the figure told last. Anything else said with it that speaks of
// an article, a tie-down or a command leaves it unapplied, and that is said.
func (t *turn) answer(a *parser.Answer) {
	inHand := len(t.load.Articles) > 0
	if a.Sorry && a.Figure != "" && inHand {
		if n := t.putRight(a); n > 0 || t.s.Asked == nil {
			t.touched = true
			if t.settled = n == 1 && !t.s.OpenOf; n != 1 {
				t.cannot("which figure")
				t.r.Doubt = true
			}
			return
		}
	}
	switch a.Word {
	case "tight": // said alone it is of what was told loose
		t.change(&parser.Change{Edit: parser.Edit{Tightened: true}})
		return
	case "loose":
		t.change(&parser.Change{Edit: parser.Edit{Loose: true}})
		return
	case "reads": // "they read 9200": the stamps on the binders, unless another was asked for
		if q := t.s.Asked; q == nil || q.Key != rules.AskTag && q.Key != rules.AskBinder {
			t.change(&parser.Change{Ref: parser.Ref{Lacks: true}, Edit: parser.Edit{Set: load.TieDown{
				Material: load.Chain, Tensioner: load.Tensioner{Has: load.Yes, Rating: a.Mass},
			}}})
			return
		}
	}
	t.answered = inHand
	switch {
	case t.besideOthers():
		t.cannot("answer beside")
		t.r.Doubt = t.r.Doubt || worse(a.Word)
	case t.weighs(a):
		t.touched = true
	case t.s.Asked == nil && t.ofTheJoint(a.Word):
		t.touched = true
	case t.s.Asked == nil:
		t.cannot("nothing asked")
		t.r.Doubt = t.r.Doubt || worse(a.Word) || a.Word == "unknown" || a.Figure != ""
	case a.Word == "unknown":
		t.touched = true
		t.say(Done{What: "unknown"})
		t.tried(t.s.Asked, twice)
	case !t.resolve(t.s.Asked, a):
		t.cannot("not an answer")
		t.r.Doubt = t.r.Doubt || worse(a.Word)
	default:
		t.touched = true
	}
}

// ofTheJoint takes "no lock", asked or not, as told of the one joint
// in hand.
func (t *turn) ofTheJoint(word string) bool {
	if word != "not locked" || len(t.load.Articles) != 1 {
		return false
	}
	a := &t.load.Articles[0]
	m, ok := tables.Kind(a.Kind)
	if a.Articulated == load.No || a.Articulated != load.Yes && !(ok && m.Joint == tables.JointAsked) {
		return false
	}
	facts := load.Article{ID: a.ID}
	facts.Joint.Locked, facts.Joint.How = load.No, load.LockBar
	t.edit(Edit{Article: &facts})
	return true
}

// weighs takes a bare figure, where none is asked for, as the weight of the
// article in hand that has none.
func (t *turn) weighs(a *parser.Answer) bool {
	hand := t.inHand()
	if hand == nil || hand.Weight.Known() || a.Word != "" || a.Mass < leastWeight*load.Pound {
		return false
	}
	if q := t.s.Asked; q != nil && (q.Key == rules.AskBinder || q.Key == rules.AskTag) {
		return false
	}
	w := load.Exact(a.Mass, false)
	w.Bare = true
	t.inUnits(&w)
	t.edit(Edit{Article: &load.Article{ID: hand.ID, Weight: w}})
	return true
}

// worse says whether an answer tells that something is not held.
func worse(word string) bool {
	switch word {
	case "no", "not locked", "not tied", "up", "loose", "off":
		return true
	}
	return false
}

// besideOthers says whether the message has an article, a tie-down or a command
// of its own.
func (t *turn) besideOthers() bool {
	for _, act := range t.msg.Acts {
		switch act := act.(type) {
		case parser.Change, parser.Gear, parser.House, parser.Road:
			return true
		case parser.Describe:
			for i := range act.Articles {
				if a := &act.Articles[i]; named(a) || len(a.Ties) > 0 {
					return true
				}
			}
		}
	}
	return false
}

// resolve lays the answer to q over the load; false where the answer says
// nothing to it.
func (t *turn) resolve(q *Question, a *parser.Answer) bool {
	switch q.Key {
	case "which piece":
		return t.noneOfThese(a.Word)
	case rules.AskJoint, rules.AskAcross:
		return t.answerJoint(q, a.Word)
	case rules.AskBinder:
		return t.tellRating(q, &load.TieDown{Tensioner: load.Tensioner{Has: load.Yes, Rating: a.Mass}}, a.Mass)
	case rules.AskTag:
		return t.tellRating(q, &load.TieDown{Mark: a.Mass}, a.Mass)
	case rules.AskCount:
		return t.answerCount(q, a.Number)
	case rules.AskDamage:
		return t.answerDamage(q, a)
	case rules.AskTensioner, rules.AskGuard, rules.AskGrade, rules.AskSize:
		var tie load.TieDown
		if len(q.IDs) == 0 || !t.answerTie(q, a, &tie) {
			return false
		}
		t.edit(Edit{IDs: q.IDs, Set: &tie})
		return true
	}
	facts := load.Article{ID: q.Article}
	if !t.answerArticle(q, a, &facts) {
		return false
	}
	t.edit(Edit{Article: &facts})
	return true
}

// noneOfThese takes "no" to which piece it is: it is none of this load.
func (t *turn) noneOfThese(word string) bool {
	if word != "no" {
		return false
	}
	w := t.s.Which
	t.s.Asked, t.s.Which, t.settled = nil, nil, true
	t.askNext(w)
	return true
}

// answerTie lays the answer to a question about tie-downs into tie.
func (t *turn) answerTie(q *Question, a *parser.Answer, tie *load.TieDown) bool {
	switch q.Key {
	case rules.AskTensioner:
		tie.Tensioner.Has = tri(a.Word)
		return tie.Tensioner.Has != load.Untold
	case rules.AskGuard:
		tie.State.NoGuard = tri(a.Word) == load.No
		if !tie.State.NoGuard {
			tie.State.Guarded = tri(a.Word)
		}
		return tri(a.Word) != load.Untold
	case rules.AskGrade:
		tie.Grade = load.Grade{Value: strconv.Itoa(a.Number), Reading: load.Read}
		return chainGrade(a.Number)
	}
	return t.answerSize(q, a.Figure, tie)
}

// answerArticle lays the answer to a question about an article into facts.
func (t *turn) answerArticle(q *Question, a *parser.Answer, facts *load.Article) bool {
	switch q.Key {
	case rules.AskTied, rules.AskLatched, rules.AskLock, rules.AskOtherLock:
		part := load.Part{Name: q.Part}
		if q.Subject != q.Part {
			part.Word = q.Subject
		}
		ok := answerPart(q.Key, a.Word, &part, t.locksOf(q))
		facts.Parts = []load.Part{part}
		return ok
	case rules.AskKind:
		facts.Still, facts.Articulated = true, load.No
		return a.Word == "no"
	case rules.AskWheels:
		facts.OnWheels = tri(a.Word)
		return facts.OnWheels != load.Untold
	case rules.AskBlocked:
		facts.Blocked = tri(a.Word)
		return facts.Blocked != load.Untold
	case rules.AskWeight, rules.AskPlate, rules.AskTogether:
		facts.Weight = load.Exact(a.Mass, false)
		facts.Weight.Bare = true
		facts.Cargo.Total = q.Key == rules.AskTogether
		t.inUnits(&facts.Weight)
		return a.Mass > 0
	case rules.AskLength, rules.AskRow:
		return t.answerLength(q, a.Figure, facts)
	case rules.AskChocks, rules.AskTouching, rules.AskSpecial, rules.AskLocks, rules.AskRear, rules.AskHoist, rules.AskEye,
		rules.AskPieces, rules.AskStacks, rules.AskTiers, rules.AskWalls, rules.AskBore:
		facts.Cargo = cargoAnswer(q.Key, a)
		return facts.Cargo != (load.Cargo{})
	}
	return false
}

// answerLength takes a length in the units of the chat.
func (t *turn) answerLength(q *Question, told string, facts *load.Article) (ok bool) {
	unit := load.Foot
	if t.s.Units == "kg" {
		unit, facts.InMetres = load.Metre, true
	}
	n, ok := figure(told)
	facts.Length, ok = times(n, unit, ok)
	facts.Cargo.Whole = q.Key == rules.AskRow
	return ok
}

// answerCount takes how many tie-downs there are of some told without a number.
func (t *turn) answerCount(q *Question, n int) bool {
	ties := t.among(t.pool(&parser.Ref{}, &parser.Edit{}), q.IDs)
	if n < 1 || n > mostPieces || len(ties) == 0 {
		return false
	}
	t.recount(ties, max(n, len(ties)))
	return true
}

// cargoAnswer is what an answer tells of an article that is no machine; nothing
// where it does not fit the question.
func cargoAnswer(key string, a *parser.Answer) (c load.Cargo) {
	yes := tri(a.Word)
	n := a.Number
	if a.Figure == "" || n > mostPieces {
		n = 0
	}
	switch key {
	case rules.AskChocks:
		c.Chocked = yes
	case rules.AskTouching:
		c.Touching = yes
	case rules.AskSpecial:
		c.Special = yes
	case rules.AskLocks, rules.AskRear, rules.AskHoist:
		if c.Locked = yes; a.Word == "locked" {
			c.Locked = load.Yes
		}
		if a.Word == "not locked" {
			c.Locked = load.No
		}
	case rules.AskEye:
		c.Checked = yes
	case rules.AskPieces:
		c.Pieces = n
	case rules.AskStacks:
		c.Stacks = n
	case rules.AskTiers:
		c.Tiers = n
	case rules.AskWalls:
		switch {
		case n > 4:
		case a.Word == "no", a.Figure == "0":
			c.Walls = load.NoWalls
		default:
			c.Walls = n
		}
	case rules.AskBore:
		if f, ok := figure(a.Figure); ok {
			c.Bore, _ = load.Times(f, load.Inch)
		}
	}
	return c
}

// answerPart lays a word about a part over it. needs are the locks it takes.
func answerPart(key, word string, p *load.Part, needs []string) bool {
	if len(needs) == 0 {
		needs = []string{"lock"}
	}
	yes := word == "yes"
	switch {
	case word == "tied", yes && key == rules.AskTied:
		p.Tied = load.Yes
		if yes {
			p.Down = load.Yes // asked as one: down, with a tie-down on it
		}
	case word == "locked", yes:
		p.Locks = needs
		if key == rules.AskLock {
			p.Locks = needs[:1] // asked of one; the other is asked next
		}
	case word == "not tied", word == "no" && key == rules.AskTied:
		p.Tied = load.No
	case word == "no" && key == rules.AskLatched:
		p.Tied, p.Unlocked = load.No, true
	case word == "not locked", word == "no":
		p.Unlocked = true
	case word == "down":
		p.Down = load.Yes
	case word == "up":
		p.Down = load.No
	case word == "loose":
		p.Loose = true
	case word == "off":
		p.Off = true
	default:
		return false
	}
	return true
}

// locksOf are the locks that hold the part a question is about.
func (t *turn) locksOf(q *Question) []string {
	for i := range t.load.Articles {
		if a := &t.load.Articles[i]; a.ID == q.Article {
			if m, ok := tables.Kind(a.Kind); ok {
				needs, _ := m.LockEnough(q.Part)
				return needs
			}
		}
	}
	return nil
}

// answerJoint takes a word about the joint. Told tied, it is one in hand that may
// be the one across it, else one more that no one described.
func (t *turn) answerJoint(q *Question, word string) bool {
	facts := load.Article{ID: q.Article}
	yes := word == "yes"
	switch {
	case word == "locked", yes && q.Key == rules.AskJoint:
		facts.Joint.Locked = load.Yes
	case word == "not locked", word == "no" && q.Key == rules.AskJoint:
		facts.Joint.Locked = load.No
	case word == "no":
		facts.Joint.Uncrossed = true
	case word == "tied", word == "over the joint", yes:
		across := load.TieDown{Place: load.Place{On: "joint"}}
		if may := lackingFor(rules.AskAcross, articleIn(&t.load, q.Article)); len(may) > 0 {
			t.edit(Edit{IDs: may[:1], Set: &across})
			return true
		}
		facts.Ties = t.newTies([]load.TieDown{across})
	default:
		return false
	}
	t.edit(Edit{Article: &facts})
	return true
}

func tri(word string) load.Tri {
	switch word {
	case "yes":
		return load.Yes
	case "no":
		return load.No
	}
	return load.Untold
}

// leastRating is the least figure that is taken for a rating.
const leastRating = 200 * load.Pound

// tellRating tells the rating of a part of the tie-downs asked about.
func (t *turn) tellRating(q *Question, tie *load.TieDown, m load.Mass) bool {
	if m < leastRating || len(q.IDs) == 0 {
		return false
	}
	t.edit(Edit{IDs: q.IDs, Set: tie})
	return true
}

// chainGrade says whether a number is one that chain is graded by, with a table
// row or without.
func chainGrade(n int) bool {
	return slices.Contains([]int{30, 43, 70, 80, 90, 100, 120}, n)
}

// answerSize takes a bare figure as the size of what was asked about: inches, or
// whole millimetres of a size that is sold in them.
func (t *turn) answerSize(q *Question, fig string, tie *load.TieDown) bool {
	ties := t.among(t.pool(&parser.Ref{}, &parser.Edit{Back: true}), q.IDs)
	n, ok := figure(fig)
	if !ok || len(ties) == 0 {
		return false
	}
	mm, _ := load.Times(n, load.Millimetre)
	if tables.Nominal(mm, ties[0].Material) != mm {
		tie.Size, tie.SizeWord = mm, fig+" mm"
		return true
	}
	const widest = 12 * load.One
	if n <= 0 || n > widest {
		return false
	}
	tie.Size, _ = load.Times(n, load.Inch)
	tie.SizeWord = fig
	return true
}

// answerDamage takes a bare figure as the measure of the damage asked about: the
// cuts of a strap, what is left of a link, in inches; and a word as to a repair
// link. A figure of more than a link was is none, but where the chain was told in
// millimetres, or the chat is in kilograms, it is in those.
func (t *turn) answerDamage(q *Question, a *parser.Answer) bool {
	if q.Subject == repairLink {
		return t.answerRepair(q, a.Word)
	}
	n, ok := figure(a.Figure)
	length, ok := times(n, load.Inch, ok)
	if !ok {
		return false
	}
	for _, x := range t.among(t.pool(&parser.Ref{}, &parser.Edit{}), q.IDs) {
		if d := openDamage(x); d == nil || !measuredBy(x, d) {
			return false
		}
		if length <= widest(x) {
			continue
		}
		if length, ok = times(n, load.Millimetre, n > 0); !ok || t.s.Units != "kg" && !strings.HasSuffix(x.SizeWord, "mm") || length > widest(x) {
			return false
		}
	}
	return t.measured(q, length)
}

// repairLink is the subject of the question whether a repair link fits its chain.
const repairLink = "repair link"

// measuredBy says whether one bare length measures a hurt.
func measuredBy(x *load.TieDown, d *load.Damage) bool {
	return x.Material != load.WireRope && d.Part != "hook" && d.Kind != repairLink
}

// widest is the most that a measure of a tie-down's hurt can be: its own size and
// a bit, a foot where that was not told.
func widest(x *load.TieDown) load.Length {
	if x.Size == 0 {
		return load.Foot
	}
	return x.Size + x.Size/4
}

// answerRepair takes a word on whether a repair link fits its chain.
func (t *turn) answerRepair(q *Question, word string) bool {
	kind := map[string]string{"yes": "matching link", "no": "wrong link"}[word]
	if kind == "" {
		return false
	}
	for _, x := range t.among(t.pool(&parser.Ref{}, &parser.Edit{}), q.IDs) {
		if d := openDamage(x); d != nil && d.Kind == repairLink {
			t.edit(Edit{IDs: []int{x.ID}, Hurt: &load.Damage{Part: d.Part, Kind: kind}})
			return true
		}
	}
	return false
}

// measured tells the measure of the damage asked about.
func (t *turn) measured(q *Question, length load.Length) bool {
	if length <= 0 {
		return false
	}
	for _, x := range t.among(t.pool(&parser.Ref{}, &parser.Edit{}), q.IDs) {
		d := openDamage(x)
		if d == nil || !measuredBy(x, d) {
			continue
		}
		told := load.Damage{Part: d.Part, Kind: d.Kind}
		if x.Material == load.Webbing {
			told.Size = []load.Length{length}
		} else {
			told.Kind, told.Left = "worn", length
		}
		t.edit(Edit{IDs: []int{x.ID}, Hurt: &told})
		return true
	}
	return false
}
