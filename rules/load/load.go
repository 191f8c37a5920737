// Package load is the model of what stands on the trailer: articles, their
// tie-downs one piece each, their parts and their joint. It knows no rule and
// no word of any language. The zero value of every fact means "not told", so
// that forgetting something can never read as met. All types marshal to JSON.
package load

// Tri is a yes-or-no that may not have been told.
type Tri int8

// The three answers; the zero one is "not told".
const (
	Untold Tri = iota
	Yes
	No
)

// Load is what is on the trailer, in the order told.
type Load struct {
	Articles []Article `json:",omitzero"`
}

// Article is one thing carried, judged on its own tie-downs.
type Article struct {
	ID          int       `json:",omitzero"`
	Name        string    `json:",omitzero"` // the user's own word ("trackhoe"), "" when no noun was told
	Kind        string    `json:",omitzero"` // key of rules/tables/kinds.csv ("excavator"); "" when no noun was told, "unknown" for a noun not in the table
	Weight      Weight    `json:",omitzero"`
	Length      Length    `json:",omitzero"` // along the trailer; 0 untold
	InMetres    bool      `json:",omitzero"` // the length was told in metres: compared with the section's own metric limits
	Articulated Tri       `json:",omitzero"` // told to bend in the middle (Yes) or rigid (No)
	OnWheels    Tri       `json:",omitzero"` // runs on wheels or tracks, told for a noun that does not say so itself
	Blocked     Tri       `json:",omitzero"` // blocked against moving forward (headboard, bulkhead, other cargo)
	Still       bool      `json:",omitzero"` // told that nothing on it moves by itself
	Bare        bool      `json:",omitzero"` // told that nothing holds it
	Parts       []Part    `json:",omitzero"` // accessories told of, in the order told
	Joint       Joint     `json:",omitzero"`
	Cargo       Cargo     `json:",omitzero"`
	Ties        []TieDown `json:",omitzero"`
	FromGear    bool      `json:",omitzero"` // kind or weight came from a machine this chat has named
}

// Weight is a weight as told. Told is the figure (the upper one of a range; a
// "ton" as a short ton); Low and High are the ends of what the words allow, all
// three equal when told exactly. The zero value is "not told".
type Weight struct {
	Told, Low, High Mass `json:",omitzero"`
	Metric          bool `json:",omitzero"` // told in kg, t, tonnes: the heavy limit is then compared in kilograms
	Ton             bool `json:",omitzero"` // told in "tons" or "T": short or metric
	Bare            bool `json:",omitzero"` // told without a unit: the chat's unit, held here as pounds
}

// Known says whether a weight was told.
func (w Weight) Known() bool { return w.Told > 0 }

// Exact is a weight told without doubt.
func Exact(m Mass, metric bool) Weight { return Weight{Told: m, Low: m, High: m, Metric: metric} }

// Part is an accessory of a machine: something that moves by itself.
type Part struct {
	Name       string   `json:",omitzero"` // key of the part ("bucket"), as in rules/tables/kinds.csv where it stands there
	Word       string   `json:",omitzero"` // the user's word for it ("brush cutter")
	Down       Tri      `json:",omitzero"` // lowered (Yes) or told up (No)
	Tied       Tri      `json:",omitzero"` // a tie-down holds it (Yes), told not tied (No)
	Locks      []string `json:",omitzero"` // locks told in: "boom lock", "swing pin", "lock", "pin", "latch"
	Unlocked   bool     `json:",omitzero"` // told that no lock or pin holds it
	Hydraulics bool     `json:",omitzero"` // told to be held by hydraulics only
	Prop       bool     `json:",omitzero"` // told to stand on a service prop
	Loose      bool     `json:",omitzero"` // told loose or free to move
	Off        bool     `json:",omitzero"` // told taken off the machine
	Stowed     bool     `json:",omitzero"` // told stowed, folded, retracted: in its travel place
	Doubtful   bool     `json:",omitzero"` // told of as a wish, a plan or a doubt: takes back what was told before
}

// Joint is where an articulated machine bends.
type Joint struct {
	Locked    Tri  `json:",omitzero"`
	How       Lock `json:",omitzero"` // what was told to lock it
	Has       bool `json:",omitzero"` // told to have a lock, not whether it is in
	Doubtful  bool `json:",omitzero"` // told of as a wish, a plan or a doubt: takes back what was told before
	Uncrossed bool `json:",omitzero"` // told that no tie-down runs across it
}

// Lock says what was told to hold the joint.
type Lock string

// The locks a message can tell of.
const (
	LockBar       Lock = "lock bar"       // a bar, pin or frame lock at the joint
	SteeringLock  Lock = "steering lock"  // taken as a bar at the joint, and said
	SteeringWheel Lock = "steering wheel" // the column, the brake, the engine off: does not hold the joint
)

// TieDown is ONE assembly from anchor to anchor. Equal ones are grouped only in
// print.
type TieDown struct {
	ID        int       `json:",omitzero"`
	Line      int       `json:",omitzero"` // clause it was told in: pieces told together share it
	Material  Material  `json:",omitzero"`
	Size      Length    `json:",omitzero"` // nominal: chain, rope diameter, strap width; 0 untold
	SizeWord  string    `json:",omitzero"` // the size as it is written ("3/8", "10 mm", "2")
	Thick     Length    `json:",omitzero"` // steel strapping only; 0 untold
	Make      string    `json:",omitzero"` // make-up of a rope: key of wire_rope.csv or cordage.csv; "" untold
	Grade     Grade     `json:",omitzero"`
	Mark      Mass      `json:",omitzero"` // working load limit told as marked on the chain, strap or rope; 0 untold; what counts is Marked
	Tensioner Tensioner `json:",omitzero"`
	Hook      Mass      `json:",omitzero"` // least hook rating told; 0 untold
	HookStamp Stamp     `json:",omitzero"` // size and grade told of its hooks; zero untold
	Anchor    Mass      `json:",omitzero"` // least anchor point rating told; 0 untold
	Route     Route     `json:",omitzero"`
	Place     Place     `json:",omitzero"`
	State     State     `json:",omitzero"`
	Plural    bool      `json:",omitzero"` // told in the plural with no number: there may be more of them
	Shared    bool      `json:",omitzero"` // told to hold two articles at once
	FromGear  bool      `json:",omitzero"` // completed from this chat's gear
	Tag       string    `json:",omitzero"` // the crew's own mark for it ("chain 7"); "" when none
}

// Stamp is the size and the grade that a fitting was told to bear, in place of a
// rating: "3/8 hooks", "grade 43 hooks".
type Stamp struct {
	Size  Length `json:",omitzero"` // of the chain it is made for; 0 untold
	Grade string `json:",omitzero"` // as in Grade.Value; "" untold
}

// Marked is the working load limit marked on t; 0 where none was told, or where t
// was told to bear no tag or mark, so that the table rates it (49 CFR 393.108).
func (t *TieDown) Marked() Mass {
	if t.State.NoTag || t.Grade.Reading == NoMarks {
		return 0
	}
	return t.Mark
}

// Material is what a tie-down is made of.
type Material string

// The materials of 49 CFR 393.108.
const (
	Chain      Material = "chain"
	Webbing    Material = "webbing"
	WireRope   Material = "wire rope"
	Cordage    Material = "cordage"
	SteelStrap Material = "steel strapping"
)

// Grade is a chain's grade as told.
type Grade struct {
	Value   string  `json:",omitzero"` // "30", "43", "70", "80", "100", or one without a table row ("90", "120")
	Reading Reading `json:",omitzero"`
}

// Reading says how the grade was told.
type Reading uint8

// Ways a grade can be told. NotRead counts as grade 30 but may be more; NoMarks
// is grade 30, settled (49 CFR 393.108: unmarked chain).
const (
	NotRead Reading = iota // not told, or hedged, or one of several
	Read                   // told: Value holds it
	NoMarks                // told that the chain bears no marks
	Alloy                  // links told marked as alloy, without a figure: 80 or 100
)

// Tensioner is the binder, ratchet or rail winch that tightens a tie-down.
type Tensioner struct {
	Has    Tri    `json:",omitzero"`
	Kind   string `json:",omitzero"` // "lever binder", "ratchet binder", "binder", "ratchet", "strap winch"; "" untold
	Rating Mass   `json:",omitzero"` // stamped working load limit; 0 untold
	Tag    string `json:",omitzero"` // the crew's own mark for it ("binder 3"); "" when none
	Label  string `json:",omitzero"` // size label of a binder ("5/16-3/8"), key of binders.csv; "" untold
	Stamp  Stamp  `json:",omitzero"` // size and grade told of it; zero untold
}

// Route is how a tie-down runs.
type Route string

// The routes of 49 CFR 393.106(d); the empty one is "not told". Lengthwise, from
// a front anchor to a rear one, is not named there: it counts half, the lesser.
const (
	Direct     Route = "direct"
	SameSide   Route = "same side"
	Over       Route = "over"
	Lengthwise Route = "front to rear"
)

// Place is where a tie-down holds, seen from the truck's driving seat. Any
// field may be empty. Spread is a place told of a group: each piece of it at a
// corner, or at an end.
type Place struct {
	End    string `json:",omitzero"` // "front", "rear", "middle"
	Side   string `json:",omitzero"` // "left", "right"
	Spread string `json:",omitzero"` // "corners", "ends"
	On     string `json:",omitzero"` // a part's Name, or "joint": holds that, not the machine itself
}

// State is the condition of a tie-down as told.
type State struct {
	Tight   Tri      `json:",omitzero"` // told tight (Yes) or loose (No)
	Sound   Tri      `json:",omitzero"` // told undamaged (Yes)
	Damage  []Damage `json:",omitzero"` // told damage, not yet mended
	NoGuard bool     `json:",omitzero"` // told bearing on steel with no edge guard
	Guarded Tri      `json:",omitzero"` // told to have an edge guard where it bears on steel
	NoTag   bool     `json:",omitzero"` // told to bear no tag or mark that rates it
	Slipped int      `json:",omitzero"` // how often it was told to have come loose
	Gone    string   `json:",omitzero"` // not on any more: "came off", "lost", "taken off"; "" is on
}

// Damage is one hurt told of a tie-down, with what was measured of it.
type Damage struct {
	Part  string   `json:",omitzero"` // "chain", "webbing", "rope", "hook", "binder", "ratchet", "anchor", ""
	Kind  string   `json:",omitzero"` // "cut", "worn", "nicked", "burned", "hole", "cracked", "bent", "broken", "stretched", "twisted", "knot", "welded", "frayed", "kinked", "opened", "wires", "damaged", ...
	Size  []Length `json:",omitzero"` // each cut's size across the strap
	Left  Length   `json:",omitzero"` // what is left of a link or a rope at its thinnest
	Lost  Length   `json:",omitzero"` // what is worn away of a link, rope or hook, or how far a hook has opened
	New   Length   `json:",omitzero"` // the same part as new, told with Lost
	Share Micro    `json:",omitzero"` // the part of the size as new that is lost, cut through or opened
	Wires int      `json:",omitzero"` // broken wires counted along a wire rope
	Over  Length   `json:",omitzero"` // the length of rope they were counted in
	Lay   bool     `json:",omitzero"` // they were counted in six diameters, or a lay, of it

	Strand  int `json:",omitzero"` // broken wires in the worst strand
	Fitting int `json:",omitzero"` // broken wires at a fitting
}

// Measured says whether a measure was told of the hurt.
func (d *Damage) Measured() bool {
	return len(d.Size) > 0 || d.Left > 0 || d.Lost > 0 || d.Share > 0 || d.Wires > 0 || d.Strand > 0 || d.Fitting > 0
}
