package rules

// Keys of the questions that would settle a finding (Finding.Ask). Which one is
// asked, and in what words, is not decided here.
const (
	AskWeight    = "weight"       // what does it weigh?
	AskPlate     = "plate"        // the exact weight: the plate or the ticket
	AskKind      = "kind"         // what is it, does anything move, does it bend?
	AskWheels    = "wheels"       // is it on wheels or tracks?
	AskTies      = "ties"         // what holds it?
	AskCount     = "count"        // how many are there?
	AskSize      = "size"         // what size, what width?
	AskTag       = "tag"          // what does the tag or the mark say (no table row)?
	AskGrade     = "grade"        // what grade do the links say?
	AskBinder    = "binder"       // what does the stamp on the binder say?
	AskRoute     = "route"        // hooked to the machine, or over to the other side?
	AskPlace     = "place"        // where does it hold?
	AskChain     = "chain"        // what is the chain on that part, and how does it run?
	AskDamage    = "damage"       // the measure of the hurt: Aside.Settle names it
	AskShared    = "shared"       // which of the two articles does it hold?
	AskGuard     = "guard"        // is there an edge guard under each?
	AskTensioner = "tensioner"    // can it be tightened on the road?
	AskLength    = "length"       // how long is it?
	AskBlocked   = "blocked"      // does anything stop it from moving forward?
	AskTied      = "tied"         // down on the deck with a tie-down on it?
	AskLatched   = "latched"      // below 10,000 lb: pinned, latched or down with a chain?
	AskLock      = "lock"         // is the lock of that part in?
	AskOtherLock = "other lock"   // the one of two locks not told
	AskJoint     = "joint"        // joint locked, or a tie-down across it?
	AskAcross    = "across joint" // is that tie-down the one across the joint?

	AskRow      = "row"      // how long are all of them together along the trailer?
	AskTogether = "together" // what do all of them weigh together?
	AskPieces   = "pieces"   // how many are there?
	AskAlone    = "alone"    // each by itself, with its own tie-downs
	AskChocks   = "chocks"   // what keeps it from rolling?
	AskTouching = "touching" // do those side by side touch?
	AskSpecial  = "special"  // must it be fastened by a special method?
	AskLies     = "lies"     // how does it lie?
	AskShape    = "shape"    // what shape is the rock?
	AskBore     = "bore"     // how wide is the pipe inside?
	AskStacks   = "stacks"   // how many stacks?
	AskTiers    = "tiers"    // how many bundles high?
	AskWalls    = "walls"    // how many sides are walled?
	AskEmpty    = "empty"    // loaded or empty?
	AskLocks    = "locks"    // are the locks in at all four lower corners?
	AskRear     = "rear"     // what holds its rear?
	AskHoist    = "hoist"    // does it ride on hold-downs of its own?
	AskEye      = "eye"      // were the section's checks made?
)

// Codes of what is taken for granted (Assumption.Code), in the order in which
// they are listed.
const (
	CodeOnePerCorner     = "one-per-corner"
	CodeOnePerEnd        = "one-per-end"
	CodeGrade30          = "grade-30"
	CodeLesserAlloy      = "lesser-alloy"
	CodeHalfCredit       = "half-credit"
	CodePartsNotWeaker   = "parts-not-weaker"
	CodeShortTon         = "short-ton"
	CodeAccessoryCounted = "accessory-counted"
	CodeFromGear         = "from-gear"
	CodeTensionerThere   = "tensioner-there"
	CodeSound            = "sound"
	CodeOnTheMachine     = "on-the-machine"
	CodeDown             = "down"
	CodeLockIsBar        = "lock-is-bar"
	CodeOtherStowed      = "other-parts-stowed"
	CodeCountOne         = "count-one"
	CodeTableRow         = "table-row"
	CodeByEye            = "by-eye" // the section's checks, on the word that they were made
)

// Codes of the remarks (Remark.Code): advice, never a finding.
const (
	RemarkThreeAndOne  = "three-and-one"
	RemarkUnder5000    = "under-5000"
	RemarkNearLine     = "near-line"
	RemarkEdgeGuard    = "edge-guard"
	RemarkHeight       = "height"
	RemarkHookNotGrade = "hook-not-grade"
	RemarkLocksDiffer  = "locks-differ"
	RemarkWeighIt      = "weigh-it"
	RemarkUnder4000    = "under-4000" // on logs a tie-down under 4,000 lb: the federal handbook asks it
	RemarkSpecial      = "special"    // fastened by special methods: its maker's or an engineer's plan decides
	RemarkMarked       = "marked"
	RemarkTooMuch      = "mark-too-high" // told as a mark, and more than a working load limit of that size can be
)
