package load

// Cargo is what was told of an article that is no machine: how many of it there
// are, how it lies, what keeps it from rolling and what it rides on. All of it
// is asked only where a section of 49 CFR part 393 turns on it.
type Cargo struct {
	Pieces   int    `json:",omitzero"` // like pieces carried as one group; 0 where none was told: one
	Several  bool   `json:",omitzero"` // told in the plural with no number
	Total    bool   `json:",omitzero"` // the weight is told of all of them together
	Whole    bool   `json:",omitzero"` // the length is told of the whole group as it rides, not of each
	Lies     string `json:",omitzero"` // how the eye of a coil, roll or pipe lies, or a log: one of the constants
	Shape    string `json:",omitzero"` // of a boulder: one of the constants
	Bore     Length `json:",omitzero"` // inside diameter of a pipe; 0 untold
	Stacks   int    `json:",omitzero"` // stacks of logs or of flattened vehicles; 0 untold
	Tiers    int    `json:",omitzero"` // bundles on top of each other; 0 untold
	Walls    int    `json:",omitzero"` // sides walled to the full height of the load; 0 untold, NoWalls none
	Chassis  Tri    `json:",omitzero"` // rides on a container chassis
	Empty    Tri    `json:",omitzero"` // a container: empty (Yes) or loaded (No)
	Locked   Tri    `json:",omitzero"` // its corner locks, or its own hold-downs, told in
	Chocked  Tri    `json:",omitzero"` // chocked, wedged or cradled so that it cannot roll
	Banded   Tri    `json:",omitzero"` // banded into one piece
	Touching Tri    `json:",omitzero"` // those side by side touch, or are blocked apart
	Special  Tri    `json:",omitzero"` // by its design must be fastened by special methods (49 CFR 393.110(d))
	Checked  Tri    `json:",omitzero"` // the section's checks made by eye, all of them (Yes), or one of them failed (No)
}

// How an article lies (Cargo.Lies).
const (
	OnEnd  = "on end" // eye to the sky
	Across = "crosswise"
	Along  = "lengthwise"
)

// The shapes of a boulder (Cargo.Shape), as 49 CFR 393.136 tells them apart.
const (
	Cubic    = "cubic"
	Stable   = "stable"   // not cubic, on a base that is steady
	Unstable = "unstable" // not cubic, on a base that is not
)

// NoWalls is Cargo.Walls where no side was told to be walled.
const NoWalls = -1
