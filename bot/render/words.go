package render

import "halfweight/rules/load"

// words is everything a user reads, in one language; a second language is one
// more value of it, in a file of its own. {names} are filled in by the code, in
// whatever order the language wants them.
type words struct {
	Head  headWords
	Read  readWords
	Do    doWords
	Count countWords
	Aside asideWords
	Name  nameWords

	Findings     map[string]findingWords // by "rule/reason"
	Assumptions  map[string]assumptionWords
	Remarks      map[string]string
	Questions    map[string]questionWords
	Options      map[string]string // an answer that can be typed; one not listed is said in capitals
	AskOne       string            // a question about one of several articles
	Bends, Moves string            // what is left to ask of a kind too vague

	LookAgain, LookBrief, TextMe string
	Laws                         map[string]lawWords // by the set's name
	Half, Percent                string              // share of the weight

	House houseWords

	Look lookWords
	Need needWords
	Plan planWords

	Book   bookWords
	Record recordWords
	Rating ratingWords
	Wear   wearWords
	Steps  stepWords
	When   whenWords
	Done   map[string]string // by what was done
	Cannot map[string]string // by why it was not
	Help   []string

	HelpShort string // for a carrier's HELP

	MoreCount, MoreWord string // how the rest of a brief reply is had

	Stands map[string]string // how the load in hand stands, by its verdict

	WhatIf, OnlyAsked, NoTopic, Nearest, WithBinder string
	Hold                                            holdWords
}

// lawWords speak of the rules in force.
type lawWords struct {
	Name           string // "the federal minimum"
	Caution, Brief string // the caution, and its short form
	Mile, Miles    string
	InForce        []string
}

// houseWords speak of the crew's own rules.
type houseWords struct {
	Rules           map[string]string // by kind
	None, List, One string
	Met             string
	Only            map[string]string // only a house rule leaves it short: by how it stands by law alone
}

// lookWords list what was taken for granted as things to go and look at.
type lookWords struct {
	Go                    string
	Corners, Ends, Hooked string // how what holds articles is taken to hold them
	Self, Selves          string // one article, several
	EdgeGuard             string
}

// needWords say what is still needed.
type needWords struct {
	Half, NoWeight     string
	Usual, Takes, Weak string
	Wanted             map[string]string // by rule
	Latched, Kind      string            // an accessory below the heavy line; of a kind too vague
	Length             string            // of one whose length was not told
	NoSum              string            // of one that locks or walls hold
	Corners            string            // of a container
}

// planWords say what to put on.
type planWords struct {
	Best, OnTop                 string // what a plan is called
	Way, Ways, WayOf            string
	Or, Nothing                 string
	Plus, On                    string
	Comes, AnyOne, NotProven    string
	Corners, BothEnds           string // how those run that stand at both ends
	Off, Lower                  string
	Binders, Weaker, Stamps     string
	Rings, Hooks                string // where the rings were told
	OrLocked, OrPinned          string
	Corner                      string // where the places of the others were not told
	Lacks, None, NoSpare        string
	Short, Cut, Near, Get, With string // where the gear does not do
	Never                       string
	Each, Smallest, Chain       string // the smallest chain
	NoChain, EachStamp          string
}

// bookWords tell of the gear and of single pieces of it.
type bookWords struct {
	None                    string
	Row, OutOf, Read, Never string
	Among                   string // the marked pieces of the kind
	Stamp, Tag              string // what is read of chain; of a strap or rope
	Out, In, Ring, Machine  string
	Notes                   map[string]string // by talk.PieceNote.Why; "noted" of one that is out is "noted out"
	Nameless                string            // one with no mark
	Which                   string            // which of several kinds goes out of the gear
	Lost                    string
	Slips, Again, AgainMany string
	Times                   map[int]string
	Ago                     agoWords
}

// agoWords say how long ago something was.
type agoWords struct{ Now, Minute, Minutes, Hour, Hours, Day, Days string }

// recordWords tell what was told before, and of the record of it.
type recordWords struct {
	File, Note                  string
	Hand, NoHand, Told, Earlier string
	Past, More, NoPast          string
	How, Stood                  map[string]string
	Article, Held, HeldOne      string
	Offer, Nothing, Law, Fewer  string
	NoRoom                      string               // the record is too long for the transport
	Parts                       map[string][2]string // one, several
}

// ratingWords answer what a kind is rated and how many a weight takes.
type ratingWords struct {
	By, ByMark, ByTable, ByMemory       string
	NoSize, NoRow, Ways, Stamps, Weaker string
	Stronger, Alike, Crossed, SizeFirst string
	Needs, NeedsTon, NeedsMost          string
	Takes, TakesWeak                    string
	WhatSize, WhatWidth                 string
	Besides, BesidesLight, BesidesHeavy string
	BesidesOwn, NoStraps                string // of a kind that a section of its own governs
	HaveFew, HaveSome, HaveIf, HaveAll  string
}

// wearWords answer questions of wear and damage.
type wearWords struct {
	CutOut, CutTrade, CutJust, CutIn  string
	Past, Counts, Change, Open        string // measured: past a limit, within it, to be changed, not settled by it
	LinkOut, LinkIn                   string
	LinkHow, LinkLimit, LinkSizes     string
	Limits, Limit, Edges              string
	Widths, Width, WidthTrade         string // of every width
	Measure, NoFigure, Out, By        string
	HookOpen, HookWorn                string
	Wires, Span, WiresLifting, Within string
	InStrand, AtFitting, InLay        string
	Rope, Repair                      string
	NoRow, NoHurt, SecondHand, Stock  string
	Lifting                           string
}

// stepWords explain a count.
type stepWords struct {
	Half, NoWeight, Halved, Whole, Blank    string
	OneHalf, OneWhole                       string // of one
	Ways                                    map[load.Route]string
	Topics                                  map[string]string // what a rule may be asked about by
	Aside, AsideCounts, Sum, Finding, Check string
	GoodUpTo, ShortOf                       string
	ByTable, ByMark, ByPart, ByLabel        string
	ByOther                                 string // by the federal table, under another code
	SeenMany, SeenOnce, SeenPart            string
	Derived, Memory, Practice               string
	Partly, Eye, Then                       string
}

// whenWords say when to look at the load again.
type whenWords struct{ Before, Next, Now string }

// headWords make the first line: does it stand, and by how much.
type headWords struct {
	Covered, Fix, FixCounts, Short, Unsettled string
	Park, Doubt, NotRead                      string
	OnlyJust, Spare, NoSpare, NoSum, By       string
	Article, Range, NoWeight, Nameless, More  string
	Pieces, Plural, Of                        string            // so many of an article, whose name is in the singular or the plural
	Both, All, Called                         string            // several articles, all of which add up
	Also                                      map[string]string // in a word, of the articles after the worst
	Then                                      map[string]string // the same for the articles after the worst
	OnLeast, OnEach                           string            // which of several has that much to spare
}

// readWords say what was not read.
type readWords struct {
	NotRead, Grave, Rest, Like string
}

// doWords make the one thing to do.
type doWords struct {
	Do, PutOn, Or, And, More string
	Binder, One              string
	Ways                     map[load.Route]string
	At, Over, Across, OnPart string
	EitherWay, Twice         string // one does it over or direct, more of them direct
	Settles, It, Both, All   string // what would settle what is open, whatever the answer
	OneTies                  string // one over the article may go over the part asked about
	OneOfThem, OneAlone      string
	InPlace, InPlaces        string // in place of what is set aside
	InThatOnes               string // of the one that is off, others being set aside
	EachCorner, Corner       string // where the places of the others were not told
	OtherEnd, Lower          string
	Instead                  map[string]string // rules.Mend.Do
}

// countWords make the count.
type countWords struct {
	Brief, BriefIf, GoodUpTo, GoodIf       string // the sum alone
	Needs, Weight                          string // the second beside another verdict than adds up
	NeedsOnly, NoTies, Bare                string
	NoWeight, NoCredit                     string
	Item, Again, HalfOf, Each, Blank       string
	Ways, WaysOn                           map[load.Route]string
	BinderToo, BinderIf, BinderShort       string
	ReadOne, OverThen, OnSize, MarkDiffers string
	UpTo, AnyMore, Weakest, Labelled       string
	OfThose, Of, RunsOn                    string
	Runs                                   map[load.Route]string
	Lose, LoseAny                          string
}

// asideWords tell of tie-downs that are set aside.
type asideWords struct {
	Out, Counts              string
	Why                      map[string]string
	Mend                     map[string]string
	Left, Total, NotMeasured string // the measure told
	Lost, LostOf             string
	Share, Across            string
	Wires                    string
	It, Each                 string
	LetGo                    string
	LookAlong                string
}

// nameWords name things.
type nameWords struct {
	Material                      map[load.Material]materialWords
	Inch, NoMark, NoGrade, NoSize string
	MarkNone, MarkNotTold         string // the same, in brief
	SizeNotTold                   string
	ChainGrade, ChainAlloy, Alloy string
	GradeMark, Brief, Many        string
	Marked                        string
	EndSide, And, Or              string
	Plain, AtPlace, At, OnPart    string // some tie-downs: "2 rear straps", "the front left chain"
	Of                            string // some of a kind named in full
	Any, AnyAt, TheAt, TheOn      string // one of some
	AnyCorner, AnyEnd             string
	Corners, OnItself             string
	Places                        map[string]string
	Parts                         map[string]string
	Limits                        map[string]string // the part that gives a tie-down its rating
	Tensioner                     map[load.Material]string
	Hook, Ring                    string
	Down, Blocked                 string
	Sixth, SixthToHalf            string // the part of its weight that must be covered, of logs
}

type materialWords struct{ One, Many, Full string }

// findingWords: Head stands in the first line, Say in the count and the data.
type findingWords struct{ Head, Say string }

// questionWords: Head is what it is about, in the first line; Ask the question,
// Hint what helps to answer it, after the answers it takes.
type questionWords struct{ Head, Ask, Hint string }

// assumptionWords: Look is a thing to go and look at, Say the same as a
// sentence for the data.
type assumptionWords struct{ Look, Say string }

var english = words{
	Head: headWords{
		Covered:   "ADDS UP{just}: {spare}. {what}.",
		Fix:       "ADDS UP WITHOUT IT{just}, BUT MEND IT FIRST: {spare}. {what}.",
		FixCounts: "ADDS UP{just}, BUT MEND IT FIRST: {spare}. {what}.",
		Short:     "SHORT{why}. {what}.",
		Park:      "Leave it parked.",
		Unsettled: "CAN'T CALL IT YET: {why}? {what}.",
		OnlyJust:  ", ONLY JUST",
		Spare:     "{spare} {unit} to spare",
		NoSpare:   "nothing to spare",
		NoSum:     "held by its locks or walls",
		By:        " by {short} {unit}",
		Article:   "{name}, {weight} {unit}",
		Range:     "{from} to {to}",
		NoWeight:  "{name}, no weight told",
		Nameless:  "load",
		Pieces:    "{n} {name}s",
		Plural:    "{n} {name}",
		Of:        " of ",
		More:      "{n} more",
		Doubt:     "what you told last",
		NotRead:   "what I could not read",
		Both:      "BOTH ADD UP{just}: {spare} {on}.",
		All:       "ALL {n} ADD UP{just}: {spare} {on}.",
		OnLeast:   "on the {name}, the least",
		OnEach:    "on each",
		Called:    "{name} of {weight} {unit}",
		Also: map[string]string{
			"covered":   "Adds up: {names}.",
			"fix":       "To be mended first: {names}.",
			"short":     "Short: {names}.",
			"unsettled": "Not settled: {names}.",
		},
		Then: map[string]string{
			"covered":   "{what}, adds up{just}: {spare}.",
			"fix":       "{what}, adds up without it{just}, but mend it first: {spare}.",
			"short":     "{what}, short{why}.",
			"unsettled": "{what}, can't call it yet: {why}?",
		},
	},
	Read: readWords{
		NotRead: "I could not read {quote}: not counted.",
		Like:    " ({like}?)",
		Grave:   "I could not read {quote}, and it may change the answer. Text it another way.",
		Rest:    "{n} more",
	},
	Do: doWords{
		Do:     "{what}.",
		PutOn:  "Put on {what}.",
		Or:     ", or ",
		And:    ", and ",
		More:   " more",
		One:    "one",
		Binder: ", with a binder of {least} or more",
		Ways: map[load.Route]string{
			load.Direct:     " direct",
			load.Over:       " over",
			load.SameSide:   " back to the same side",
			load.Lengthwise: " front to rear",
		},
		At:         " at the {place}",
		Over:       " over the {part}",
		Across:     " across the joint",
		OnPart:     " on the {part}",
		EitherWay:  ": over gives {over}, direct {direct}",
		Twice:      ", or {n} direct",
		Lower:      "lower the {part} onto the deck",
		OneTies:    "{one} over the {part} ties it too.",
		OneOfThem:  "One of them",
		OneAlone:   "One",
		Settles:    "{what} settles {it}.",
		It:         "it",
		Both:       "both",
		All:        "all {n}",
		InPlace:    " in its place",
		InPlaces:   " in their place",
		InThatOnes: " in place of the one that is off",
		EachCorner: ", one on each corner that has none",
		Corner:     " on the corner that has none",
		OtherEnd:   " at the other end",
		Instead: map[string]string{
			"tighten":         "tighten {which}",
			"put a binder on": "put a binder on {which}",
			"lock the joint":  "lock the joint with its bar or pin, or put a chain across it",
			"lower it":        "lower the {part} onto the deck and tie it",
		},
	},
	Count: countWords{
		Brief:     "Needs {need}, has {has}.",
		BriefIf:   "Needs {need}, has {has} with {wll} binders; {weak} ones make {low}, short {short}.",
		GoodUpTo:  "Has {has}: good up to {good} {unit}{if}.",
		Needs:     "Needs {need}. Has {has}{list}.",
		Weight:    "Weight: needs {need}, has {has}{list}.",
		NoWeight:  "Has {has}{list}. Good up to {good} {unit}{if}.",
		GoodIf:    " with {wll} binders, {low} with {weak}",
		NoCredit:  "Has {has}{list}.",
		NeedsOnly: "Needs {need}.",
		NoTies:    "No tie-down told yet.",
		Bare:      "Nothing holds it.",
		Item:      "{n} {noun}{kind}{way} {credit}",
		Again:     "{n}{way} {credit}",
		HalfOf:    "{n} {noun}{kind}{way} of {credit}",
		Each:      "{n} {noun}{kind}{way}, {credit} each",
		Blank:     "{n} {noun}{kind} nothing yet",
		Ways: map[load.Route]string{
			load.Direct:     " direct at half",
			load.Over:       " over whole",
			load.SameSide:   " same side at half",
			load.Lengthwise: " front to rear at half",
			"":              " at half",
		},
		WaysOn: map[load.Route]string{
			load.Direct:     " on the {part} at half",
			load.Over:       " over the {part}",
			load.SameSide:   " round the {part} at half",
			load.Lengthwise: " along the {part} at half",
			"":              " on the {part} at half",
		},
		BinderToo:   "Holds with {weak} binders too.",
		BinderIf:    "That is with {wll} binders; {weak} ones make {has}, short {short}{read}.",
		ReadOne:     ": read one",
		BinderShort: "That is with {wll} binders; with {weak} it is short {short}",
		OverThen:    ": put {n} more over",
		OnSize:      "{wll} on {size}",
		MarkDiffers: "The mark counts. By the table a {what} is {table}: read the mark again.",
		UpTo:        "By what is not told yet it may be up to {most}.",
		AnyMore:     "By what is not told yet it may be more.",
		Weakest:     "The {part} is the weakest part{of}: {wll} each.",
		Labelled:    "The {part}{of} is taken by its size label, {wll} each: common practice, read the stamp.",
		OfThose:     " of ",
		Of:          "the {n}{way}",
		RunsOn:      " on the {part}",
		Runs: map[load.Route]string{
			load.Direct: " direct", load.Over: " over", load.SameSide: " back to the same side", load.Lengthwise: " front to rear", "": " whose way was not told",
		},
		Lose:    "Lose {which} and it no longer adds up.",
		LoseAny: "Lose any one and it no longer adds up.",
	},
	Aside: asideWords{
		Out:    "{which}: {why}, not counted.",
		Counts: "{which}: {why}, counted.",
		Why: map[string]string{
			"no edge guard":         "on steel with no edge guard",
			"holds two articles":    "holds two things at once",
			"a strap":               "against your house rule",
			"grade too low":         "grade below your house rule",
			"grade not read":        "grade not read, your house rule asks one",
			"knot":                  "a knot in it",
			"wires":                 "broken wires",
			"broken strand":         "a broken strand",
			"popped core":           "core popped out",
			"stitching":             "stitching loose",
			"opened":                "opened",
			"rotted":                "spoiled by sun, age or acid",
			"repair link":           "a repair link in it",
			"wrong link":            "a repair link that does not match",
			"strap on it":           "no strap may hold it",
			"a strap, unless empty": "holds it only when it is empty",
			"not a chain":           "only chain may hold it",
		},
		Mend: map[string]string{
			"loose":         "Tighten {it} if {noun}, hook and ring are sound. If not, put another there.",
			"no binder":     "Put a {tensioner} on {it}.",
			"no edge guard": "Put a guard under {it}.",
			"strap on it":   "Take {it} off: no strap may touch such a load.",
			"damage":        "Take {it} off, or put another there. Left on, it can be written up by itself.",
			"damage short":  "Take {it} off and put another there. Left on, it can be written up by itself.",
			"damage counts": "Put a sound one there before you go.",
		},
		Left:        ", {left} left",
		Lost:        ", {lost} gone",
		LostOf:      ", {lost} of {new}",
		Share:       ", {share} percent",
		Across:      " {share} percent across",
		Wires:       ", {n} counted{where}",
		NotMeasured: ", not measured",
		It:          "it",
		Each:        "each",
		Total:       " {sum} = {total} in",
		LetGo:       "Before you go: the others, the tyres, why it let go, handle tied back.",
		LookAlong:   "Look at the webbing by every hook and ratchet.",
	},
	Name: nameWords{
		Material: map[load.Material]materialWords{
			load.Chain:      {"chain", "chains", "{size} chain"},
			load.Webbing:    {"strap", "straps", "{size} strap"},
			load.WireRope:   {"wire rope", "wire ropes", "{size} wire rope"},
			load.Cordage:    {"rope", "ropes", "{size} {make} rope"},
			load.SteelStrap: {"steel strap", "steel straps", "{size} steel strapping"},
			"":              {"tie-down", "tie-downs", "{size} tie-down"},
		},
		Inch:        " in",
		NoMark:      ", no mark",
		MarkNone:    "(no mark)",
		MarkNotTold: "(grade not told)",
		SizeNotTold: "(size not told)",
		NoGrade:     ", grade not told",
		NoSize:      ", size not told",
		ChainGrade:  "{size} grade {grade} chain",
		ChainAlloy:  "{size} alloy chain",
		Alloy:       "alloy",
		GradeMark:   "g",
		Brief:       "{kind} {noun}",
		Many:        "{noun}{kind}",
		Marked:      "marked {mark}",
		EndSide:     "{end} {side}",
		And:         " and ",
		Or:          " or ",
		Plain:       "{n} {noun}{kind}",
		AtPlace:     "{n} {place} {noun}",
		At:          "the {place} {noun}",
		Of:          "of ",
		OnPart:      "{n} {noun} on the {part}",
		Any:         "one {kind}",
		AnyAt:       "one {place} {noun}",
		TheAt:       "the {place} {noun}",
		TheOn:       "the {noun} on the {part}",
		AnyCorner:   "a corner {noun}",
		Corners:     "corners",
		OnItself:    "tie-downs on the machine itself",
		AnyEnd:      "either {noun}",
		Down:        " down and",
		Blocked:     "blocked in front, ",
		Sixth:       "a sixth",
		SixthToHalf: "a sixth to half",
		Hook:        "hook",
		Ring:        "ring",
		Tensioner: map[load.Material]string{
			load.Chain: "binder", load.Webbing: "ratchet", load.WireRope: "tightener", load.Cordage: "tightener", "": "tightener",
		},
		Places: map[string]string{
			"front": "front", "rear": "rear", "middle": "middle",
			"left": "left", "right": "right",
			"corners": "corners", "ends": "ends",
		},
		Parts:  map[string]string{"": "part that moves", "joint": "joint"},
		Limits: map[string]string{"anchor": "ring"},
	},
	Findings: map[string]findingWords{
		"weight/told":            {Say: "Weighs {weight} {unit}, as told."},
		"weight/told loosely":    {Say: "Weighs {weight} {unit}, told loosely: judged at both ends."},
		"weight/from gear":       {Say: "Weighs {weight} {unit}, from your list of machines."},
		"weight/weight not told": {Say: "No weight told: what holds it is good up to {good} {unit}."},

		"aggregate/covers":                                {Say: "Needs {need}, {share} of its weight. Has {has}."},
		"aggregate/less than half the weight":             {Head: "nothing counts", Say: "Needs {need}, {share} of its weight. Has {has}."},
		"aggregate/nothing on it":                         {Head: "nothing holds it", Say: "Needs {need}, {share} of its weight. Nothing holds it."},
		"aggregate/no tie-down told":                      {Say: "Needs {need}, {share} of its weight. No tie-down told yet."},
		"aggregate/weight not told":                       {Say: "No weight told. Has {has}: good up to {good} {unit}."},
		"aggregate/not with the commonest weaker binders": {Say: "Needs {need}, {share} of its weight. Has {has} with binders as strong as the chain, {weaker} with the commonest weaker ones."},
		"aggregate/could be enough":                       {Say: "Needs {need}, {share} of its weight. Has {has} on what is told, and may have more."},
		"aggregate/not at both ends of the weight":        {Say: "Needs {low} to {need}, {share} of its weight. Has {has}."},

		"aggregate/the hoist holds the rest": {Say: "Its tie-downs have {has} of {need}, half of its weight; what the hoist holds of it no table tells."},

		"corners/enough":                           {Say: "{Corners} {have} of {want}."},
		"corners/too few":                          {Head: "{have} of {want} {corners}", Say: "{Corners} {have} of {want}."},
		"corners/none at the front":                {Head: "no corner held at the front", Say: "Corners: none held at the front."},
		"corners/none at the rear":                 {Head: "no corner held at the rear", Say: "Corners: none held at the rear."},
		"corners/too few at the front":             {Head: "fewer than {each end} at the front", Say: "Corners: {each end} asked for at the front."},
		"corners/too few at the rear":              {Head: "fewer than {each end} at the rear", Say: "Corners: {each end} asked for at the rear."},
		"corners/nothing on it":                    {Say: "{Corners} 0 of {want}."},
		"corners/place not told":                   {Say: "Corners: {want} asked for, not told where they hold."},
		"corners/no tie-down told":                 {Say: "Corners: {want} asked for, no tie-down told yet."},
		"corners/weight not told":                  {Say: "Corners: {want} asked for from {line} up, no weight told."},
		"corners/weight on both sides of the line": {Say: "Corners: {want} asked for from {line} up, and it may weigh that."},
		"corners/wheels or tracks not told":        {Say: "Corners: {want} asked for if it is on wheels or tracks."},
		"corners/damage not measured":              {Say: "Corners: {want} asked for, and one is hurt and not measured."},
		"corners/one holds two articles":           {Say: "Corners: {want} asked for, and one holds two things."},
		"corners/number not told":                  {Say: "Corners: {want} asked for, not told how many there are."},

		"ends/enough":                           {Say: "Both ends held."},
		"ends/too few":                          {Head: "{have} of {want} at the ends", Say: "Ends {have} of {want}."},
		"ends/none at the front":                {Head: "nothing at the front", Say: "One asked for at each end: none at the front."},
		"ends/none at the rear":                 {Head: "nothing at the rear", Say: "One asked for at each end: none at the rear."},
		"ends/too few at the front":             {Head: "fewer than {each end} at the front", Say: "{each end} asked for at each end."},
		"ends/too few at the rear":              {Head: "fewer than {each end} at the rear", Say: "{each end} asked for at each end."},
		"ends/nothing on it":                    {Say: "One asked for at each end: nothing holds it."},
		"ends/place not told":                   {Say: "One asked for at each end: not told where they hold."},
		"ends/no tie-down told":                 {Say: "One asked for at each end: no tie-down told yet."},
		"ends/weight not told":                  {Say: "One asked for at each end, four corners from {line} up: no weight told."},
		"ends/weight on both sides of the line": {Say: "One at each end does below {line}, and it may weigh more."},
		"ends/wheels or tracks not told":        {Say: "One asked for at each end if it is on wheels or tracks."},
		"ends/damage not measured":              {Say: "One asked for at each end, and one is hurt and not measured."},
		"ends/one holds two articles":           {Say: "One asked for at each end, and one holds two things."},
		"ends/number not told":                  {Say: "One asked for at each end: not told how many there are."},

		"number/enough":                           {Say: "{blocked}by its length {want}, has {have}."},
		"number/too few":                          {Head: "{have} of {want} tie-downs for its length", Say: "{blocked}by its length {want}, has {have}."},
		"number/nothing on it":                    {Say: "By its length {want} or more, nothing holds it."},
		"number/place not told":                   {Say: "By its length {want} or more, has {have}."},
		"number/no tie-down told":                 {Say: "By its length {want} or more, no tie-down told yet."},
		"number/length not told":                  {Say: "By its length {want} or more, length not told. Has {have}."},
		"number/blocking not told":                {Say: "By its length {want}, fewer if blocked in front. Has {have}."},
		"number/weight not told":                  {Say: "By its length and weight {want}, no weight told. Has {have}."},
		"number/weight on both sides of the line": {Say: "By its length {want} at the most it may weigh. Has {have}."},
		"number/wheels or tracks not told":        {Say: "By its length {want} or more if it has no wheels or tracks. Has {have}."},
		"number/damage not measured":              {Say: "By its length {want}. Has {have}, and one hurt and not measured."},
		"number/one holds two articles":           {Say: "By its length {want}. Has {have}, and one that holds two things."},
		"number/number not told":                  {Say: "By its length {want}. Has {have} or more."},

		"number/loaded or empty not told":              {Say: "By its length {want}. Has {have}."},
		"number/rating not told":                       {Say: "By its length {want}. Has {have}."},
		"number/length of the row not told":            {Say: "By the length of the row {want}, and only the length of each is told. Has {have}."},
		"number/number and length of the row not told": {Say: "By the length of the row {want} or more: how many there are is not told. Has {have}."},
		"number/special method":                        {Say: "Held by a special method as its design asks: the number by length, {want}, does not bind it. Has {have}."},
		"number/too few unless a special method":       {Say: "By its length {want}, has {have}; not bound by that if its design asks for a special method."},

		"chocks/chocked":                             {Say: "Chocked, so that it cannot roll."},
		"chocks/on its end":                          {Say: "On its end: does not roll."},
		"chocks/banded into one":                     {Say: "Banded into one piece: does not roll."},
		"chocks/not chocked":                         {Head: "nothing keeps it from rolling", Say: "Chock, wedge or cradle it so that it cannot roll, then text: chocked."},
		"chocks/not told what keeps it from rolling": {Say: "It may roll: not told what keeps it from that."},

		"contact/touching or blocked apart":   {Say: "They touch, or are blocked apart."},
		"contact/banded into one":             {Say: "Banded into one piece."},
		"contact/not touching":                {Head: "they can move toward each other", Say: "They can move toward each other: push them together or block them apart, then text: touching."},
		"contact/not told whether they touch": {Say: "Not told whether those side by side touch."},

		"cargo/enough":                           {Say: "Its own rule asks for {want}, has {have}."},
		"cargo/too few":                          {Head: "{have} of {want} tie-downs its own rule asks for", Say: "Its own rule asks for {want}, has {have}."},
		"cargo/a tie-down too weak":              {Head: "a tie-down too weak for its place", Say: "Its own rule asks for {want} strong enough, and one of the {have} is too weak."},
		"cargo/a strap on it":                    {Head: "a strap on it", Say: "No strap may hold it: chain or wire rope only."},
		"cargo/nothing on it":                    {Say: "Its own rule asks for {want}, nothing holds it."},
		"cargo/no tie-down told":                 {Say: "Its own rule asks for {want} or more, no tie-down told yet."},
		"cargo/several, each on its own":         {Say: "Each is held by itself: not told which tie-down holds which."},
		"cargo/how it lies not told":             {Say: "How many its own rule asks for turns on how it lies. Has {have}."},
		"cargo/its shape not told":               {Say: "How many its own rule asks for turns on its shape. Has {have}."},
		"cargo/stacks not told":                  {Say: "Its own rule asks for so many on each stack. Has {have}."},
		"cargo/tiers not told":                   {Say: "Its own rule turns on how many tiers there are."},
		"cargo/one tier":                         {Say: "One tier: held by the general rules."},
		"cargo/walls not told":                   {Say: "How many its own rule asks for turns on the walls round it. Has {have}."},
		"cargo/walled on all sides":              {Say: "Walled on all four sides."},
		"cargo/loaded or empty not told":         {Say: "Straps hold it only empty: not told whether it is."},
		"cargo/rating not told":                  {Say: "Its own rule asks for {want}. Has {have} whose rating is told."},
		"cargo/its locks not told":               {Say: "Not told what holds it to the truck."},
		"cargo/a lock not in":                    {Head: "a lock not in", Say: "A lock at its corners is not in."},
		"cargo/held by its locks":                {Say: "Held by its locks."},
		"cargo/its diameter not told":            {Say: "How many its own rule asks for turns on how wide it is inside. Has {have}."},
		"cargo/number of pieces not told":        {Say: "Its own rule asks for so many on each, and the number is not told. Has {have}."},
		"cargo/place not told":                   {Say: "Its own rule asks for {want} where it must be held, not told where they hold."},
		"cargo/damage not measured":              {Say: "Its own rule asks for {want}. Has {have}, and one hurt and not measured."},
		"cargo/one holds two articles":           {Say: "Its own rule asks for {want}. Has {have}, and one that holds two things."},
		"cargo/number not told":                  {Say: "Its own rule asks for {want}. Has {have} or more."},
		"cargo/weight not told":                  {Say: "What it weighs tells which rule holds for it. Has {have}."},
		"cargo/blocking not told":                {Say: "Its own rule asks for {want}, fewer if the end ones are blocked. Has {have}."},
		"cargo/weight on both sides of the line": {Say: "What it weighs tells which rule holds for it. Has {have}."},

		"container/too few":           {Head: "{have} of {want} corners", Say: "Corners {have} of {want}: each of the four."},
		"container/enough":            {Say: "Corners {have} of {want}."},
		"container/none at the front": {Head: "no corner held at the front", Say: "Corners: none held at the front."},
		"container/none at the rear":  {Head: "no corner held at the rear", Say: "Corners: none held at the rear."},
		"roll-off/too few":            {Head: "nothing at the rear", Say: "One asked for at its rear, has {have}."},
		"roll-off/enough":             {Say: "Its rear is tied."},

		"eye/looked at":                {Say: "Its checks by eye made, on your word."},
		"eye/one not so":               {Head: "a check by eye not passed", Say: "One of its checks by eye is not passed: set it right, then text: checks done."},
		"eye/not chocked":              {Head: "nothing keeps it from rolling", Say: "Chock, wedge or cradle it so that it cannot roll, then text: chocked."},
		"eye/how it lies not told":     {Say: "Which checks by eye it takes turns on how it lies."},
		"eye/its shape not told":       {Say: "Which checks by eye it takes turns on its shape."},
		"eye/not told to be looked at": {Say: "Its checks by eye: {checks}."},

		"rating/rated":           {Say: "Each corner rated {least hold} or more."},
		"rating/rated less":      {Head: "{have} of {want} corners rated {least hold}", Say: "Each of the {want} to be rated {least hold} or more: {have} are."},
		"rating/rating not told": {Say: "Each of the {want} to be rated {least hold} or more: not told of all."},

		"guard/guarded":             {Say: "Edge guards on."},
		"guard/no edge guard":       {Head: "no edge guard", Say: "An edge guard asked for under each strap."},
		"guard/edge guard not told": {Say: "An edge guard asked for under each strap: not told."},

		"accessory/tied":                      {Say: "{part}{down} tied."},
		"accessory/held with another part":    {Say: "{part} held with it."},
		"accessory/locked":                    {Say: "{part} locked."},
		"accessory/taken off":                 {Say: "{part} off."},
		"accessory/stowed":                    {Say: "{part} stowed."},
		"accessory/nothing moves":             {Say: "Nothing on it moves."},
		"accessory/loose":                     {Head: "{part} loose", Say: "{part}: loose."},
		"accessory/on hydraulics only":        {Head: "{part} on hydraulics only", Say: "{part}: on hydraulics only, which do not count."},
		"accessory/up":                        {Head: "{part} up", Say: "{part}: up, to be down and tied."},
		"accessory/not tied":                  {Head: "{part} not tied", Say: "{part}: not tied."},
		"accessory/its tie-down is set aside": {Head: "{part} lost its tie-down", Say: "{part}: its tie-down does not count."},
		"accessory/no lock and no tie-down":   {Head: "nothing holds the {part}", Say: "{part}: no lock, no tie-down."},
		"accessory/one of two locks":          {Say: "{part}: one of its two locks told."},
		"accessory/locked, tie it as well":    {Say: "{part}: locked, to be tied as well."},
		"accessory/on a service prop":         {Say: "{part}: on a service prop, which is no lock."},
		"accessory/only mentioned":            {Say: "{part}: not told what holds it."},
		"accessory/not told":                  {Say: "{part}: not told what holds it."},
		"accessory/kind too vague":            {Say: "Not told what it is, nor what moves on it."},

		"articulation/does not bend":                 {Say: "It does not bend."},
		"articulation/locked":                        {Say: "Joint locked."},
		"articulation/tie-down across it":            {Say: "A tie-down across the joint."},
		"articulation/no lock and nothing across it": {Head: "joint not locked", Say: "Joint: no lock in, nothing across it."},
		"articulation/one may be across it":          {Say: "Joint: no lock in, and not told whether a tie-down is across it."},
		"articulation/steering wheel only":           {Say: "Joint: a locked steering wheel does not hold it."},
		"articulation/has a lock, not told in":       {Say: "Joint: has a lock, not told whether it is in."},
		"articulation/kind too vague":                {Say: "Joint: not told whether it bends in the middle."},
		"articulation/not told":                      {Say: "Joint: not told whether it is locked."},
		"articulation/damage not measured":           {Say: "Joint: the tie-down across it is hurt and not measured."},
		"articulation/one holds two articles":        {Say: "Joint: the tie-down across it holds two things."},
		"articulation/number not told":               {Say: "Joint: not told how many tie-downs are across it."},
		"articulation/place not told":                {Say: "Joint: not told whether a tie-down is across it."},

		"tensioner/can be tightened":         {Say: "Each can be tightened on the road."},
		"tensioner/no tensioner":             {Head: "no binder", Say: "No binder or ratchet to tighten it on the road."},
		"tensioner/rope, tensioner not told": {Say: "Not told what tightens the rope on the road."},
	},
	Assumptions: map[string]assumptionWords{
		"one-per-corner":     {"one on each corner", "Taken as one on each corner."},
		"one-per-end":        {"one at each end", "Taken as one at each end."},
		"grade-30":           {"grade marks on the links, counted as grade 30", "No grade told: counted as grade 30 until the marks are read."},
		"lesser-alloy":       {"8 or 10 on the alloy links, counted as the less", "Alloy without a figure: counted as the less of grade 80 and 100."},
		"half-credit":        {"how each runs, counted at half", "Way not told: counted at half, as hooked direct."},
		"parts-not-weaker":   {"stamps on {stamps}", "The {stamps} are taken as no weaker than the {noun}: read the stamps."},
		"pounds":             {"", "No unit told: {weight} taken as {unit}."},
		"short-ton":          {"the plate, {ton} {unit} if in short tons, {tonne} if metric", "A ton is taken as 2,000 lb; by the metric ton it is {tonne} {unit}."},
		"accessory-counted":  {"the {noun} on the {part} stays on, the weight needs it", "The weight adds up only with the {noun} on the {part}."},
		"from-gear":          {"{listed} as on your list", "Filled in from this chat's gear."},
		"fewer-in-gear":      {"your list holds only {n} {kind}", "More than this chat's gear holds: {n} {kind}."},
		"tensioner-there":    {"a {tensioner} on each", "Taken as there: a {tensioner} on each."},
		"sound":              {"all tight and sound", "Taken as tight and undamaged."},
		"on-the-machine":     {"hooked to {itself}", "Taken as hooked to {itself}, not to a part that moves."},
		"down":               {"{part} down on the deck", "The {part} is taken as down on the deck."},
		"lock-is-bar":        {"the lock is a bar or pin at the joint", "The steering lock is taken as a bar or pin at the joint."},
		"other-parts-stowed": {"{part} stowed and held", "Taken as stowed and held: {part}."},
		"count-one":          {"how many, one counted", "No number told: one counted."},
		"by-eye":             {"its checks by eye (text WHY) as you told", "The checks that its section leaves to the eye are taken as made."},
		"table-row":          {"tags on the {nouns} (table used)", "Rated by the federal table, not by a tag."},
	},
	Remarks: map[string]string{
		"three-and-one":  "Three and one will do by the rule; the practice is two and two.",
		"under-5000":     "The federal handbook asks {least} of each of the four; the rule does not.",
		"near-line":      "Close to {line}: fuel or mud may put it over. Weigh it, or run it as four corners.",
		"edge-guard":     "Put an edge guard where a strap or rope bears on steel.",
		"height":         "{part} up: measure the height.",
		"hook-not-grade": "A stamp on a hook or binder is not the chain's. Look along the links.",
		"locks-differ":   "An inspector may still want a chain over the {part}.",
		"states-differ":  "A state or a permit may ask for more.",
		"under-4000":     "The federal handbook asks 4,000 lb of each tie-down on logs.",
		"special":        "The plan of its maker or an engineer says how it is held.",
		"marked":         "Every chain, strap, binder and hook must bear its mark there: one without counts for nothing.",
		"weigh-it":       "Weigh it, or read the plate.",
		"mark-too-high":  "That mark is more than one so wide or thick can bear: a breaking strength. Read the WLL. The table counts.",
	},
	Questions: map[string]questionWords{
		"weight":             {"the weight", "What does it weigh, by the plate or a scale ticket?", ""},
		"plate":              {"the exact weight", "What does the plate or the ticket say it weighs?", ""},
		"kind":               {"what it is", "What is it? Does anything on it move by itself, or does it bend in the middle?", ""},
		"wheels":             {"wheels or tracks", "Is it on wheels or tracks?", ""},
		"ties":               {"what holds it", "What holds it? Text it like: 4x 3/8 g70 direct", ""},
		"count":              {"how many", "How many are there?", ""},
		"size":               {"the size", "What size is it, as stamped or measured?", ""},
		"tag":                {"the tag", "What working load limit does its tag or mark say?", ""},
		"grade":              {"the grade marks", "What grade do the links say?", ""},
		"binder":             {"the binders", "What does the stamp on the binder say?", ""},
		"route":              {"how they run", "Hooked to the load itself, or over it to the other side?", ""},
		"place":              {"where they hold", "Where do they hold: one on each corner?", ""},
		"chain":              {"the chain on the {part}", "What chain is on the {part}, and how does it run?", ""},
		"damage":             {"the damage", "How bad is it? Measure it.", ""},
		"damage/cut size":    {"the cut", "How long are the cuts across the strap in total?", "Nicks on both edges add."},
		"damage/link left":   {"the worn link", "How thick is the thinnest link, in inches?", "Measure it both ways."},
		"damage/wires":       {"the broken wires", "How many broken wires in six rope diameters, and in the worst strand?", "Text it like: 5 broken wires in 3 inches, 2 broken wires in one strand"},
		"damage/rope left":   {"the worn rope", "How thick is the rope at its thinnest?", ""},
		"damage/hook opened": {"the hook", "How wide is the throat, and on a new hook?", "Text it like: hook throat 1 1/8, new 1"},
		"damage/hook worn":   {"the hook", "How much of the hook is worn away, in percent?", "Text it like: hook worn 5 percent"},
		"damage/repair link": {"the repair link", "Is the repair link marked with the chain's grade or better?", ""},
		"damage/width":       {"the strap's width", "How wide is the strap?", ""},
		"damage/grade":       {"the chain's grade", "What grade do the links of that chain say?", ""},
		"damage/size":        {"the chain's size", "What size is the chain?", ""},
		"guard":              {"edge guards", "Is there an edge guard under each strap?", ""},
		"shared":             {"which one it holds", "Which of the two does it hold?", ""},
		"tensioner":          {"what tightens it", "Is there a binder, ratchet or winch on it to tighten it on the road?", ""},
		"length":             {"the length", "How long is it along the trailer?", ""},
		"blocked":            {"what stops it in front", "Does a headboard or other cargo stop it from moving forward?", ""},
		"tied":               {"the {part}", "{part}: down and tied?", "Hydraulics alone do not count."},
		"tied/down":          {"the {part}", "{part} down, and a chain on it too?", "Hydraulics alone do not count."},
		"latched":            {"the {part}", "{part}: pinned, latched or chained down?", "Hydraulics alone do not count."},
		"lock":               {"the lock of the {part}", "{part}: is its lock in?", ""},
		"other lock":         {"the other lock of the {part}", "{part}: are both its locks in, boom lock and swing pin?", ""},
		"joint":              {"the joint", "Joint: lock bar or pin in, or a chain across it?", ""},
		"which one":          {"which one", "Which one is it?", ""},
		"across joint":       {"the joint", "Is the one over the top the one across the joint?", ""},
		"which piece":        {"where {part} is", "Is {part} on this load? Text its place, like: front left. If it is not on:", ""},
		"forget":             {"", "Delete it all?", ""},
		"restore":            {"", "Read it back?", ""},
		"row":                {"the length of the row", "How long are all of them together along the trailer?", ""},
		"together":           {"the weight of all", "What do all of them weigh together?", ""},
		"pieces":             {"how many there are", "How many of them are there?", ""},
		"alone":              {"which holds which", "Text each one by itself with its own tie-downs.", ""},
		"chocks":             {"what keeps it from rolling", "Chocked, wedged or cradled so that it cannot roll?", ""},
		"touching":           {"whether they touch", "Do those side by side touch, or are they blocked apart?", ""},
		"special":            {"how it must be fastened", "Must it by its design be fastened by a special method, and is it?", ""},
		"lies":               {"how it lies", "How does it lie on the deck?", ""},
		"shape":              {"its shape", "What shape is it, and how steady is its base?", ""},
		"bore":               {"how wide it is inside", "How wide is the pipe inside, in inches?", ""},
		"stacks":             {"how many stacks", "How many stacks are there?", ""},
		"tiers":              {"how many tiers", "How many bundles high is it at the highest?", ""},
		"walls":              {"the walls", "How many sides of the load are walled to its full height?", ""},
		"empty":              {"loaded or empty", "Loaded or empty?", ""},
		"locks":              {"its locks", "Are locks in at all four lower corners?", ""},
		"rear":               {"what holds its rear", "Are its own hold-downs in, front and rear? If not, text what ties its rear.", ""},
		"hoist":              {"what the hoist holds", "Are its own hold-downs in, front and rear? If not, what the hoist holds is on no table: read 49 CFR 393.134.", ""},
		"eye":                {"its checks by eye", "By eye: {checks}. These, and the rest that WHY lists: all so?", ""},
	},
	Options: map[string]string{
		"yes": "YES", "no": "NO", "unknown": "DON'T KNOW",
	},
	AskOne: "{name}. {question}",
	Bends:  "Does it bend in the middle?",
	Moves:  "What is it? Does anything on it move by itself?",

	LookAgain: "Look again inside {first} {miles}.",
	LookBrief: "Go look: all tight and sound, stamps read.",
	TextMe:    "Text me what you add.",
	Half:      "half",
	Percent:   " percent",
	Laws: map[string]lawWords{
		"federal": {
			Name: "the federal minimum", Caution: "Federal minimum on your word, not a go-ahead.", Brief: "Fed minimum on your word, not a go-ahead.", Mile: "mile", Miles: "miles",
			InForce: []string{"Counting by the United States' federal minimum, 49 CFR 393.100 to 393.136. RULES CANADA changes that."},
		},
		"canada": {
			Name: "NSC 10", Caution: "NSC 10 minimum on your word, not a go-ahead.", Brief: "NSC 10 minimum on your word, not a go-ahead.", Mile: "kilometre", Miles: "kilometres",
			InForce: []string{
				"Counting by NSC Standard 10, the Canadian code, so far as I have read it: half the weight; over 4,500 kg four corners, each rated 2,268 kg (5,000 lb) or more; gear without a mark counts for nothing; look at 80 km, then every 240 km or {hours} hours.",
				"A direct tie-down counts half here too: one reading of the Code gives more, and I have no text of it that settles that.",
				"Provinces add to it: ask yours. RULES US changes back.",
			},
		},
	},
	House: houseWords{
		Rules: map[string]string{
			"need": "{n} percent of the weight", "ties": "{n} tie-downs on each", "ends": "{n} at each end", "webbing": "no straps on machines",
			"grade": "chain of grade {n} or better", "rating": "corners rated {mass} {unit} or more", "guards": "an edge guard under every strap",
		},
		None: "No house rules. They only tighten. Text one like: house rule 60 percent / house rule two and two / house rule no straps on machines",
		List: "House rules, beside the law:", One: "{n}. {rule}.",
		Met: "House rules met too.",
		Only: map[string]string{
			"covered":   "By your house rules only: by {law} alone it adds up.",
			"fix":       "By your house rules: by {law} alone it adds up, with something to mend.",
			"unsettled": "By your house rules: by {law} alone it is not settled.",
		},
	},

	Look: lookWords{
		Go:        "Go look: {list}.",
		Corners:   "one on each corner of {itself}",
		Ends:      "one at each end of {itself}",
		Hooked:    "hooked to {itself}",
		Self:      "the {name} itself",
		Selves:    "the {name} themselves",
		EdgeGuard: "an edge guard where a strap or rope bears on steel",
	},
	Need: needWords{
		Half:     "{what}: needs {need}, {share} of its weight.",
		NoWeight: "{what}: tie-downs for half its weight. Tell me the weight.",
		Usual:    "{kinds}: {takes}.",
		Takes:    "{n}{way}",
		Weak:     ", {n} with {weak} binders",
		Wanted: map[string]string{
			"corners":      "{want} at least on the machine itself, one on each corner.",
			"ends":         "{want} at least, one at the front and one at the rear.",
			"accessory":    "{part} down, with a chain on it.",
			"articulation": "Joint locked with its bar or pin, or a chain across it.",
			"tensioner":    "A binder, ratchet or winch on each.",
		},
		Latched: "{part} pinned, latched or chained down.",
		Length:  "By its length {want} or more: tell me the length.",
		NoSum:   "{what}: held by its locks or walls, no sum of tie-downs.",
		Corners: "{what}: locks in at all four lower corners, or a chain at each, together for {need}.",
		Kind:    "Tell me what it is: what moves on it is tied, a joint is locked.",
	},

	Plan: planWords{
		Best:      "PLAN",
		OnTop:     "PLAN, on top of what is on",
		Way:       "{plan}: {way}.",
		Ways:      "{plan}:",
		WayOf:     "{way}.",
		Plus:      ", plus ",
		Or:        "Or {ways}: {spare}.",
		Nothing:   "PLAN: nothing more to put on.",
		On:        "{name}: {list}",
		Comes:     "{what}: needs {need}, that makes {has}, {spare}.",
		AnyOne:    "Any one of them may come off and it still adds up.",
		NotProven: "There may be a way with less: too many ways to look through.",
		Corners:   ", one on each corner",
		BothEnds:  ", {n} at each end",
		Off:       "Nothing is counted on what is set aside: take it off, or mend it and ask again.",
		Lower:     "First lower the {part} onto the deck.",
		Binders:   "Took binders as {list}: read the stamps, stronger is fine.",
		Weaker:    "{weak} on {size}",
		Rings:     "Rings counted at {mass}, as told.",
		Hooks:     "Hooks no weaker: read them too.",
		Stamps:    "Hooks and rings no weaker than the chain or strap: read them too.",
		OrLocked:  "With its lock bar in, or if it does not bend: none across the joint.",
		OrPinned:  "A part pinned or latched needs none over it, below {line}.",
		Corner:    " on a corner that has none",
		Lacks:     "short {short} {unit} of {need}",
		None:      "nothing lacking",
		NoSpare:   "it adds up, but not with any one of them off",
		Short:     "NOT WITH THAT GEAR.",
		Cut:       "NO WAY FOUND WITH THAT GEAR: too many ways to look through them all.",
		Near:      "{what}, at best: {short}.",
		Get:       "Get at least {what}, binder {least} or more: {where}.",
		With:      "Then {ways}.",
		Never:     "NOT WITH THAT GEAR, and no chain from the table mends it.",
		Each:      "{n} direct on {weight} {unit} must make {need}: {each} or more on each.",
		Smallest:  "Smallest by the federal table: {list}.",
		Chain:     "{kind} ({wll})",
		NoChain:   "No chain in the federal table is rated so.",
		EachStamp: "Binders, hooks and rings {each} or more too: read the stamps. Any part that moves takes its own.",
	},

	Rating: ratingWords{
		By:           "{what}: {wll} {unit} by {source}.",
		ByMark:       "its mark",
		ByTable:      "the federal table",
		ByMemory:     "the federal table, from memory",
		NoSize:       "{what}: no figure without the size. Read the stamp or the tag.",
		NoRow:        "{what}: the federal table has no row for it. Read the tag: that figure counts.",
		Ways:         "Direct it counts {half}, over to the other side {whole}.",
		Stamps:       "The {stamps} may be less: read the stamp.",
		Weaker:       "With {weak} binders {has}, good up to {good}.",
		Stronger:     "The {more} is the stronger: {wll} {unit} against {other} for the {less}.",
		Alike:        "The {more} and the {less} are rated alike: {wll} {unit}.",
		Crossed:      "In 5/16, g80 is less than g70: {g80} against {g70}.",
		SizeFirst:    "Size first, then grade, then the binder.",
		Needs:        "{weight} {unit} needs {need}.",
		NeedsTon:     "{weight} {unit} needs {low}; in metric tons it is {most}, needs {need}.",
		NeedsMost:    "{weight} {unit} told loosely may be {most}: needs {need}.",
		WhatSize:     "What size and grade? Text it like: how many 3/8 g70 for {weight}",
		WhatWidth:    "What width? Text it like: how many 2in straps for {weight}",
		Takes:        "A {what} is {wll}: {direct} direct at {half}, or {over} over.",
		TakesWeak:    "With {weak} binders {direct} direct, or {over} over.",
		Besides:      "From {line} also four corners, and every moving part tied.",
		BesidesLight: "On wheels or tracks two at least, one at the front and one at the rear.",
		BesidesOwn:   "Such a load has a rule of its own. Text it with what holds it, or: what do I need for it",
		NoStraps:     "No strap counts on it: chain only.",
		BesidesHeavy: "On a machine four at least, one on each corner, and every moving part tied.",
		HaveFew:      "{n} is too few: even all over they count {whole}.",
		HaveSome:     "{n} is enough only over: {whole} over, {half} direct.",
		HaveIf:       "{n} direct count {half}, if the binders read {wll} or more.",
		HaveAll:      "{n} direct count {half}: enough for the weight.",
	},
	Wear: wearWords{
		CutOut:       "TAKE IT OFF: {cut} of cut is past the {limit} of the published table.",
		CutTrade:     "CHANGE IT: {cut} of cut is past the {limit} of some in the trade.",
		CutJust:      "It still counts, at the limit: {cut} of cut is the most some in the trade allow.",
		CutIn:        "It still counts with {cut} of cut. Watch it.",
		Past:         "TAKE IT OFF: {what}, {why}. It counts for nothing.",
		Counts:       "It still counts: {what}, {why}. Watch it.",
		Change:       "CHANGE IT: {what}, {why}. It counts, but past what lifting rules allow.",
		Open:         "{what}, {why}: it counts for nothing until that is settled.",
		LinkOut:      "TAKE IT OFF: {left} is below {limit} on a {what}.",
		LinkIn:       "It still counts: {left}, out below {limit} on a {what}.",
		LinkLimit:    "A link is out below {limit}, at its thinnest.",
		LinkSizes:    "A 3/8 g70 link is out below {three} in at its thinnest, a 1/2 g70 link below {half}.",
		LinkHow:      "Measure the thinnest link, both ways. Roadside practice, not in Part 393: out when a fifth is gone. A gauge made on the plain size lets it go to {nominal}.",
		Lifting:      "Lifting rules are stricter: {least} left ({by}, {mark}): no rule for a tie-down.",
		Limits:       "Some in the trade take a {width} strap off past {trade} in of cut, the published table past {published}.",
		Limit:        "The published table takes a {width} strap off past {published} in of cut.",
		Widths:       "All cuts together, a strap is out past: {list}.",
		Width:        "{width} in {published}",
		WidthTrade:   "{width} in {trade} (some in the trade), {published} (published table)",
		Edges:        "Cuts on both edges add.",
		Measure:      "{what}, {why}: it counts for nothing until it is measured.",
		NoFigure:     "CHANGE IT: {what}, {why}. No table I have measures that: it counts for nothing.",
		Out:          "TAKE IT OFF: {what}, {why}. No measuring: it counts for nothing.",
		By:           "By: {source} ({cite}).",
		HookOpen:     "No road rule has a figure for a hook. Lifting rules take it off opened past {share} percent, or {most} in ({source}, {mark}).",
		HookWorn:     "No road rule has a figure for a hook. Lifting rules take it off with more than {share} percent worn away ({source}, {mark}).",
		Wires:        "Out: more than {along} broken wires in {span} rope diameters{length}; more than {strand} in one strand; more than {fitting} at a fitting. Published table, from memory.",
		Span:         ", which is {length}",
		Within:       " in {length}",
		WiresLifting: "Lifting rules, none for a tie-down: {crane} in a lay or {cranestrand} in a strand on cranes, {sling} or {slingstrand} on slings (read in one place).",
		InStrand:     " in one strand",
		AtFitting:    " at a fitting",
		InLay:        " in six diameters",
		Rope:         "A rope is out when {share} percent of its thickness is gone: {source}.",
		Repair:       "A repair link counts if it is made for it and marked with the chain's grade or better (a provincial manual, read in one place). A bolt, lap link or cold shut does not.",
		NoRow:        "{what}: no limit found for it. Go by its tag or its maker.",
		NoHurt:       "Tell me what is hurt and how much: 2in strap with a 3/8 cut, or 3/8 link down to .31",
		SecondHand:   "I have that table second-hand.",
		Stock:        "The size a link is made of: {mark}.",
	},
	Steps: stepWords{
		Half:     "{share} of the weight must be covered: {need} ({cite}{mark}).",
		NoWeight: "{share} of the weight must be covered ({cite}{mark}).",
		Halved:   "{n} {noun}{kind}: {wll} each{from}, half {way}: {n} times {each} is {credit}.",
		Whole:    "{n} {noun}{kind}: {wll} each{from}, whole {way}: {credit}.",
		OneHalf:  "{n} {noun}{kind}: {wll}{from}, half {way}: {credit}.",
		OneWhole: "{n} {noun}{kind}: {wll}{from}, whole {way}: {credit}.",
		Blank:    "{n} {noun}{kind}: no figure yet, nothing counted.",
		Ways: map[load.Route]string{
			load.Direct:     "from trailer to load",
			load.SameSide:   "back to the same side",
			load.Over:       "over to the other side",
			load.Lengthwise: "front to rear (not named in the rule, the less is taken)",
			"":              "as the way was not told",
		},
		Aside:       "{which}: {why}, counts for nothing ({cite}).",
		AsideCounts: "{which}: {why}, counts, to be mended first ({cite}).",
		Sum:         "Together {has} of {need}: {stands}.",
		Finding:     "{say} ({cite}{mark}).",
		Check:       "Look: {check} ({cite}{mark}).",
		GoodUpTo:    "good up to {good} {unit}",
		ShortOf:     "{short} {unit} short",
		ByTable:     " by the table ({cite}, {mark})",
		ByOther:     " by the federal table ({cite}, {mark}; {own}'s own {sure})",
		ByMark:      " by its mark",
		ByPart:      " by the {part}",
		ByLabel:     " by the binder's size label (common practice)",
		SeenMany:    "read in {n} places",
		SeenOnce:    "read in one place",
		SeenPart:    "read in part, the rest from memory",
		Partly:      "read in a summary",
		Then:        ", ",
		Eye:         "Its checks by eye are not told to be made.",
		Topics:      map[string]string{"corners": "four 4 corner", "ends": "two 2 end", "articulation": "joint lock", "tensioner": "binder ratchet"},
		Derived:     "worked out, not read",
		Memory:      "from memory: read the section",
		Practice:    "trade practice",
	},
	Book: bookWords{
		None:    "none noted",
		Row:     "{n} {noun}{kind}{with}{marked}{out}, {read}",
		Among:   ", the marked ones among them",
		OutOf:   ", {n} of them out",
		Read:    "{stamp} read {ago}",
		Never:   "{stamp} never read",
		Stamp:   "stamp",
		Tag:     "tag",
		Out:     "{name}{kind}: out, {why}, told {ago}{slips}.",
		In:      "{name}{kind}: in, {read}{slips}.",
		Ring:    "Rings {mass} {unit}.",
		Which:   "Which: {kinds}? Nothing changed. Text it like: gear less {n}x {kind}",
		Machine: "Machine {name}: {what}.",
		Notes: map[string]string{
			"noted":          "{Name} noted{kind}, {read}.",
			"noted out":      "{Name}{kind} is out of your gear: {why}. It stays out until: {name} replaced",
			"noted out bare": "{Name}{kind} is out of your gear: {why}. It counts one fewer until: replaced",
			"in":             "{Name}{kind} is in again, {read}.",
			"in bare":        "{Name}{kind} is in your gear again.",
			"out":            "{Name} is out: told {why} {ago}. In again by: {name} replaced",
			"gone":           "{Name} is off your list.",
			"new":            "{Name} is not on your list: taken as one piece with that mark. If you mean how many, put the number first.",
			"new many":       "{Names} are not on your list: each taken as one piece with that mark. If you mean how many, put the number first.",
			"differs":        "Your list has {name} as{kind}. Look at it, then text it like: gear {name} is 3/8 g70",
		},
		Nameless:  "one",
		Lost:      "lost",
		Again:     "{Nth} time {which} came loose: change the {noun} and look at the ring.",
		Slips:     ", came loose {n} times",
		AgainMany: "{Which} came loose {n} times: change the {noun} and look at the ring.",
		Times:     map[int]string{2: "second", 3: "third", 4: "fourth"},
		Ago: agoWords{
			Now: "just now", Minute: "1 minute ago", Minutes: "{n} minutes ago", Hour: "1 hour ago", Hours: "{n} hours ago",
			Day: "1 day ago", Days: "{n} days ago",
		},
	},
	Record: recordWords{
		File:    "halfweight.json",
		Note:    "All I hold of this chat. Send the file back to me and I read it in again.",
		Hand:    "In hand: {load}. {stands}",
		NoHand:  "No load in hand.",
		Told:    "{ago}: {quote}.",
		Earlier: "More was told of it before that.",
		Past:    "{ago}, {how}: {load}. {stood}.",
		More:    "And {n} before.",
		NoPast:  "No load before it.",
		How:     map[string]string{"delivered": "delivered", "new load": "put away", "replaced": "another load told after it"},
		Stood: map[string]string{
			"covered": "It added up", "fix": "It added up, with something to mend", "short": "It was short", "unsettled": "It was not settled",
		},
		Article: "{name}, {weight}",
		Held:    "{n} tie-downs",
		HeldOne: "1 tie-down",
		Offer:   "A record of mine, written {ago}: {parts}. Read back, it takes the place of this chat's gear, machines, trailer, units{rules} and past loads. The load in hand stays.",
		Law:     ", rules",
		Fewer:   "CAREFUL: its rules are not yours now, and may ask less of a load.",
		NoRoom:  "That record is too long for text messages. Text EXPORT on Telegram or at the console: there it comes whole.",
		Nothing: "empty",
		Parts: map[string][2]string{
			"gear": {"1 kind of gear", "{n} kinds of gear"}, "pieces": {"1 single piece", "{n} single pieces"}, "machines": {"1 machine", "{n} machines"},
			"ring": {"rings {mass} {unit}", ""}, "loads": {"1 past load", "{n} past loads"},
			"house": {"1 house rule", "{n} house rules"}, "rules": {"rules {name}", ""},
		},
	},
	When: whenWords{
		Before: "Before you roll. Then inside the first {first} {miles}, then every {each} {miles}, {hours} hours or change of duty, whichever is first ({checks}).",
		Next:   "By {mile} {next}, {left} on from here. Sooner if {hours} hours pass or your duty changes.",
		Now:    "Now: pull over where there is room and look at it.",
	},
	Done: map[string]string{
		"new load":          "Cleared. Text me the next load.",
		"undo":              "Undone.",
		"undo all":          "Undone: no load in hand.",
		"nothing to undo":   "Nothing to undo.",
		"replaced":          "Taken as a new load in place of the last. UNDO brings that back.",
		"unknown":           "Noted: not known. Go and look.",
		"gear":              "Your gear: {gear}.",
		"gear less":         "Your gear now: {gear}.",
		"forget":            "That deletes all I hold of this chat: load, gear, machines, trailer and past loads. Nothing brings it back.",
		"forget not":        "Kept. Nothing was deleted.",
		"restored":          "Read back: gear, machines, trailer, units and past loads. The load in hand is as it was.",
		"restore not":       "Not read back. Nothing changed.",
		"machine":           "Noted: machine {words}. Text it like: machine {words}, 4x 3/8 g70 direct",
		"anchor":            "Noted: rings rated {mass} {unit}. Every later tie-down is held to that.",
		"units":             "Figures in {unit} from now on.",
		"forgotten":         "Forgotten: load, gear, machines, trailer and past loads. I know nothing of this chat any more.",
		"rolling":           "Look again by {mile} {next}.",
		"rolling short":     "SHORT: this load is not to roll. If you are moving, pull over where there is room.",
		"rolling unsettled": "NOT SETTLED: this load is not to roll. If you are moving, pull over where there is room.",
		"rolling fix":       "MEND IT FIRST: something on this load is loose or hurt. If you are moving, pull over.",
		"stopped":           "Walk round it: tight, sound, nothing moved? Then text: checked",
		"checked":           "Noted. Next look by {mile} {next}, or sooner if {hours} hours pass or your duty changes.",
		"checked parked":    "Noted: looked at.",
		"at":                "Next look by {mile} {next}, {left} on.",
		"due":               "Look at it now: pull over where there is room.",
		"delivered":         "Delivered. Trip closed.",
		"quiet":             "Stopped: no more texts from this number. START to go on.",
		"speaks":            "On again. Text me a load: 14000 lb roller, lock bar in, 4x 3/8 g70 direct",
		"rules":             "Changed.",
		"house":             "Noted.",
	},
	Cannot: map[string]string{
		"no load":          "No load in hand. Text me one: 14000 lb roller, lock bar in, 4x 3/8 g70 direct",
		"no such tie-down": "I find no such tie-down on this load: {words}. Nothing changed.",
		"which of several": "More than one fits {words}. Nothing changed.",
		"no such part":     "I know of no part that moves on it: {words}.",
		"nothing to mend":  "I know of none that {words} would put right. Nothing changed. A loose one comes back by: tightened, a hurt one by: replaced",
		"no such machine":  "No machine {name} on your list: taken as you tell it here.",
		"no such piece":    "I have no {name} on your list or on this load. Put it on the list like: gear {name} is 3/8 g70",
		"record broken":    "That begins like a record of mine and is not whole, or was changed. Nothing changed. Text EXPORT again and send that back as it is, best as a file.",
		"record foreign":   "That is no record of mine. Nothing changed. Text EXPORT for one that I can read back.",
		"record later":     "That record was written by a later bot than this. Nothing changed.",
		"record loosens":   "That record has a house rule that asks less than the law. Nothing changed: nothing of it was read back.",
		"record rules":     "That record has a rule I don't know, one twice, or one that no load could meet. Nothing changed: nothing of it was read back.",
		"record too long":  "That is longer than any record of mine. Nothing changed.",
		"gear fewer":       "Your list holds fewer than that: {words}. Nothing changed.",
		"how many of what": "How many of what, for what weight? Text it like: how many 3/8 g70 for 52000",
		"nothing asked":    "I have asked nothing that {words} would answer. Nothing changed.",
		"not an answer":    "I can't take {words} as an answer to that. Nothing changed.",
		"answer beside":    "I take an answer only by itself. Text it again: {words}",
		"which figure":     "Which figure does {words} put right? Nothing changed.",
		"part unmarked":    "A {name} with no mark: its rating cannot be read, and it may be the weakest part. Put one with a mark on, or text what it says.",
		"two ways":         "Not all of that goes together, so it stays open. Text it once more, one thing at a time, or: new load",
		"part lost":        "Part of a text of yours never came: {words} is not counted. Text it again, whole.",
		"still unread":     "Part of what you sent before is still not read. Text it another way, or: undo",
		"edited late":      "More was told after that message, so the count stands as it was. Text me what is different.",
		"edited command":   "I take a changed message for a load only. Nothing changed. Text that one again by itself.",
		"settled":          "That question is settled. Nothing changed.",
		"not words":        "I read words only, not a {name}. Text me the load: 14000 lb roller, lock bar in, 4x 3/8 g70 direct",
		"words only":       "I read the words only, not the {name}.",
		"too fast":         "That is more than I can take at once. This one is not counted, and none of the next minute: wait, then send it again.",
		"hold no weight":   "How many g is a share of the weight, and none was told{of}. What does it weigh? Text: it weighs 14000",
		"house which":      "I can't make a house rule of {words}. Text one like: house rule 60 percent, or after HOUSE RULE: at least 6 tie-downs / two and two / grade 70 or better / each 6600 / no straps on machines / edge guards always",
		"house loosens":    "{words} asks no more than {law} does. House rules only tighten. Nothing changed.",
		"house reach":      "No load could meet {words}. Nothing changed.",
		"house none":       "No such house rule is kept: {words}. HOUSE RULES shows them.",
		"no more":          "That was all of it.",
		"too long":         "That is {n} characters, more than the 4,096 I read. Text me the load in short: 14000 lb roller, 4x 3/8 g70 direct",
		"empty":            "Nothing in that one. Text me a load: 14000 lb roller, lock bar in, 4x 3/8 g70 direct",
		"nothing read":     "I could not make a load or a question of {quote}. Text it like: 14000 lb roller, lock bar in, 4x 3/8 g70 direct",
		"fault":            "Something broke on my side. Nothing changed. Send it again.",
		"state lost":       "I can't read any more what this chat told me: load, gear and all. It is kept aside for whoever looks after me. Nothing is counted on it, nor is this message. Tell me the load again from the start, and the gear. To have it deleted: forget me",
		"see above":        "(see above)",
	},
	MoreCount: "MORE for the count.",
	MoreWord:  "MORE",
	HelpShort: "halfweight counts tie-downs against the federal minimum. Text a load: 14000 lb roller, lock bar in, 4x 3/8 g70 direct. MORE for the rest of a reply, STOP to stop.",
	Help: []string{
		"Text me the load, in any order: 14000 lb roller, lock bar in, 4x 3/8 g70 direct, 1 over",
		"Change it: add 2x 3/8 g70 over / front left is loose / tightened it / it weighs 15,200 / undo / new load",
		"Ask: why / what do I need / 3/8 g70? / how many 3/8 g70 for 52000 / when do I check next",
		"By mechanics, how many g: hold / hold rubber on wet steel, chains at 45, 30 out",
		"Plan: what do I need for 52000 dozer with ripper / plan with one spare / plan keeping the straps dry",
		"Yours: gear 6x 3/8 g70 / gear chain 7 is 3/8 g70 / chain 7 is bent / trailer d-rings 6600 / machine 12 is a 14000 lb roller",
		"Kept: gear / history / export / units kg / forget me",
		"On the road: rolling / stopped / checked / at 140 miles / delivered",
		"What you get is the federal minimum on what you tell me. It is not advice to go.",
		"Read the tags. Retighten and look again on the road.",
		"State, provincial and permit rules add to it. The inspector at the roadside and the machine maker's instructions decide.",
		"No texting while driving.",
	},
	Stands: map[string]string{
		"covered":   "Your load adds up, on what you told me.",
		"fix":       "Your load adds up, but something on it is to be mended first.",
		"short":     "Your load is short. Text: what do I need",
		"unsettled": "Your load is not settled yet. Text: what do I need",
	},
	Hold: englishHold,

	WhatIf:     "Then:",
	OnlyAsked:  "Only asked: the load in hand stays as it was.",
	NoTopic:    "I have no short answer to that.",
	Nearest:    "Nearest I can answer: {list}.",
	WithBinder: " with {rating} binders",
}
