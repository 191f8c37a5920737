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
	RemarkMarked       = "marked"
)
