package parser

// heaped says how goods are put up where that does not hold them together, and
// which goods in it keep the rule of their own kind. A crate or a box holds its
// goods by itself, and so does a bundle, a pallet too, save of what no band and
// no pallet takes out of its section.
var heaped = map[string]map[string]bool{
	"stack": {"log": true, "lumber": true, "pipe": true, "concrete pipe": true, "spool": true, "coil": true, "paper roll": true,
		"container": true, "flattened vehicle": true, "roll-off container": true, "boulder": true, "beam": true},
	"bundle": {"coil": true, "flattened vehicle": true},
	"pallet": {"coil": true},
}

// keepsRule says whether goods of that kind keep their own rule in the bundle,
// stack or pallet that t tells.
func keepsRule(t *tok, goods string) bool {
	how := t.word
	if t.raw == "stack" || t.raw == "stacks" {
		how = "stack"
	}
	return heaped[how][goods]
}

// contents takes the noun at i as what the stack being read is made of, and the
// load is judged by that: "stack of concrete pipe", "pipe stack". As a plain
// bundle it would lose the questions of its section.
func (r *reader) contents(i int) bool {
	a := r.cur
	if a == nil || !a.noun || r.cl != nil || len(a.clauses) > 0 {
		return false
	}
	goods := r.t(i).word
	if r.kindAt(i-1) == kKind && a.Kind == r.t(i-1).word && cargoKind(a.Kind) && a.Kind != goods && (goods == "bundle" || goods == "pallet") {
		return true // "pipe bundle", "lumber pallet": the pipe stays what it is
	}
	if of := r.back(i-1, kDet); r.kindAt(of) != kOf || !cargoKind(goods) || !r.heapedBefore(of, goods) {
		return false
	}
	switch goods {
	case "coil", "concrete pipe", "spool", "container":
		a.Cargo.Pieces, a.Cargo.Several = 0, true // a number told is of the stacks
	}
	a.Kind, a.Name = goods, r.surface(i)
	return true
}

// heapedBefore says whether the noun before the "of" tells of such a stack.
func (r *reader) heapedBefore(of int, goods string) bool {
	for k := of - 1; k >= 0; k-- {
		if t := r.t(k); t.kind == kKind {
			return keepsRule(t, goods)
		} else if !t.kind.in(kMass, kBig, kSep, kLength, kNum, kLong) {
			break
		}
	}
	return false
}
