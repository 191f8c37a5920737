package parser

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"halfweight/rules/load"
)

// told is a load of one article and one way to tell it: clauses that each say
// by themselves what they say, in some of their usual spellings.
type told struct {
	article Article
	clauses []string
}

func draw[T any](t *rapid.T, label string, of ...T) T { return rapid.SampledFrom(of).Draw(t, label) }

// nouns are kinds of article and how each is spelt.
var nouns = map[string][]string{
	"roller":     {"roller", "padfoot", "drum roller"},
	"excavator":  {"excavator", "trackhoe", "excavater", "hoe on tracks"},
	"dozer":      {"dozer", "bulldozer", "crawler dozer"},
	"skid steer": {"skid steer", "skidsteer", "skid"},
	"pickup":     {"pickup", "pickup truck"},
	"grader":     {"grader", "motor grader"},
}

func someLoad(t *rapid.T) told {
	var x told
	kind := draw(t, "kind", "roller", "excavator", "dozer", "skid steer", "pickup", "grader")
	x.article.Kind, x.article.Name = kind, kind
	noun := draw(t, "noun", nouns[kind]...)
	w := x.weigh(t)
	x.clauses = append(x.clauses, draw(t, "head", w+" "+noun, noun+" "+w, noun+" weighs "+w, "a "+w+" "+noun, noun+": "+w))
	for range rapid.IntRange(0, 3).Draw(t, "lines") {
		x.tie(t)
	}
	switch kind {
	case "roller", "grader":
		x.joint(t)
	case "excavator", "skid steer":
		x.part(t, "bucket")
	case "dozer":
		x.part(t, "blade")
		x.part(t, "ripper")
	}
	return x
}

func (x *told) weigh(t *rapid.T) string {
	n := 100 * rapid.IntRange(20, 1500).Draw(t, "hundreds")
	plain, grouped := strconv.Itoa(n), strconv.Itoa(n)
	if len(plain) > 3 {
		grouped = plain[:len(plain)-3] + "," + plain[len(plain)-3:]
	}
	thousands := strconv.FormatFloat(float64(n)/1000, 'f', -1, 64)
	figure := draw(t, "figure", plain, grouped)
	if rapid.Bool().Draw(t, "metric") {
		x.article.Weight = load.Exact(load.Mass(n)*load.Kilogram, true)
		return draw(t, "unit", figure+" kg", figure+"kg", figure+" kilos", figure+" kgs", thousands+" tonnes") // "t" and "T" differ
	}
	x.article.Weight = load.Exact(load.Mass(n)*load.Pound, false)
	return draw(t, "unit", figure+" lb", figure+"lb", figure+" lbs", figure+"#", figure+" pounds", thousands+"k lb", thousands+"k#")
}

// sizes are chain sizes and how each is spelt.
var sizes = map[string][]string{
	"5/16": {"5/16", `5/16"`, "5/16 in", "five sixteenths", ".3125"},
	"3/8":  {"3/8", `3/8"`, "3/8”", "3/8in", "3/8 inch", "⅜", ".375", "three eighths", "three-eighths"},
	"1/2":  {"1/2", `1/2"`, "½", ".5", "half inch"},
}

var sizeOf = map[string]load.Length{"5/16": load.Inch * 5 / 16, "3/8": load.Inch * 3 / 8, "1/2": load.Inch / 2}

var grades = map[string][]string{
	"30":  {"g30", "grade 30", "gr 30", "proof coil", "grade thirty"},
	"43":  {"g43", "grade 43", "high test", "G43"},
	"70":  {"g70", "gr 70", "gr70", "grade 70", "grade seventy", "G7", "transport chain", "g-70"},
	"80":  {"g80", "grade 80", "gr80", "G8", "grade eighty"},
	"100": {"g100", "grade 100", "G10"},
}

var routes = map[load.Route][]string{
	load.Direct:   {"direct", "straight to the machine", "hooked to the frame"},
	load.Over:     {"over", "over the top", "to the other side"},
	load.SameSide: {"same side", "back to the same side"},
	"":            {""},
}

var places = map[load.Place][]string{
	{}:                           {""},
	{End: "front"}:               {"at the front", "front", "up front"},
	{End: "rear"}:                {"at the rear", "rear", "on the rear"},
	{End: "front", Side: "left"}: {"front left", "left front", "on the front left", "LF"},
	{End: "rear", Side: "right"}: {"rear right", "right rear", "at the rear right", "back right"},
	{Spread: "corners"}:          {"on the corners", "at the corners"},
}

var countWords = []string{"", "one", "two", "three", "four", "five", "six"}

// tie draws one clause of tie-downs.
func (x *told) tie(t *rapid.T) {
	n := rapid.IntRange(1, 6).Draw(t, "count")
	d := load.TieDown{Line: len(x.article.Lines)}
	var kind string
	if rapid.IntRange(0, 3).Draw(t, "strap") == 0 {
		d.Material, d.SizeWord = load.Webbing, draw(t, "width", "2", "3", "4")
		d.Size = load.Inch * load.Length(d.SizeWord[0]-'0')
		kind = d.SizeWord + draw(t, "inch", " inch ", " in ", `" `) + draw(t, "strap", "strap", "straps", "webbing")
	} else {
		d.Material, d.SizeWord = load.Chain, draw(t, "size", "5/16", "3/8", "1/2")
		d.Size = sizeOf[d.SizeWord]
		d.Grade = load.Grade{Value: draw(t, "grade", "30", "43", "70", "80", "100"), Reading: load.Read}
		size, grade := draw(t, "sized", sizes[d.SizeWord]...), draw(t, "graded", grades[d.Grade.Value]...)
		kind = draw(t, "kind of chain", size+" "+grade, grade+" "+size)
		if !strings.Contains(grade, "chain") && rapid.Bool().Draw(t, "say chain") {
			kind += " " + draw(t, "chain", "chain", "chains")
		}
	}
	d.Route = draw(t, "route", load.Direct, load.Over, load.SameSide, load.Route(""))
	d.Place = draw(t, "place", load.Place{}, load.Place{}, load.Place{End: "front"}, load.Place{End: "rear"}, load.Place{End: "front", Side: "left"}, load.Place{End: "rear", Side: "right"}, load.Place{Spread: "corners"})
	if d.Place.Spread != "" && d.Route == "" {
		d.Route = load.Direct // a spread with no route is a wording of its own
	}
	run := words(draw(t, "routed", routes[d.Route]...), draw(t, "placed", places[d.Place]...))
	figure := strconv.Itoa(n)
	ways := []string{words(figure+"x", kind, run), words(figure+" x", kind, run), words(figure+"×", kind, run), words("("+figure+")", kind, run), words(countWords[n], kind, run)}
	if !slices.ContainsFunc(x.article.Ties, func(e load.TieDown) bool { return e.Size == d.Size && e.Grade == d.Grade }) {
		// a kind told before and named again, its count last, may be the same ones
		ways = append(ways, words(kind, run, "x"+figure), words(kind, "x"+figure, run))
	}
	x.clauses = append(x.clauses, draw(t, "counted", ways...))
	x.article.Lines = append(x.article.Lines, Line{Count: n, Told: true, Named: true})
	for range n {
		x.article.Ties = append(x.article.Ties, d)
	}
}

func (x *told) joint(t *rapid.T) {
	tell := func(j load.Joint, as ...string) {
		x.article.Joint = j
		x.clauses = append(x.clauses, draw(t, "joint", as...))
	}
	switch rapid.IntRange(0, 3).Draw(t, "jointed") {
	case 0:
		tell(load.Joint{Locked: load.Yes, How: load.LockBar}, "lock bar in", "the lock bar is in", "joint locked", "joint is pinned", "articulation locked", "frame lock in")
	case 1:
		tell(load.Joint{Locked: load.Yes, How: load.SteeringLock}, "steering locked", "steering lock is in")
	case 2:
		tell(load.Joint{Locked: load.No, How: load.LockBar}, "joint not locked", "no lock bar", "joint is unlocked")
	}
}

func (x *told) part(t *rapid.T, name string) {
	tell := func(p load.Part, as ...string) {
		p.Name, p.Word = name, name
		x.article.Parts = append(x.article.Parts, p)
		x.clauses = append(x.clauses, draw(t, "part", as...))
	}
	switch rapid.IntRange(0, 5).Draw(t, name) {
	case 0:
		tell(load.Part{Down: load.Yes, Tied: load.Yes}, name+" down and chained", name+" is down and tied", name+" down n chained", name+" lowered and chained down")
	case 1:
		tell(load.Part{Tied: load.Yes}, name+" chained", name+" tied down", "the "+name+" is chained", name+" has a chain on it")
	case 2:
		tell(load.Part{Tied: load.No}, name+" not tied", name+" isn't chained", name+" not chained")
	case 3:
		tell(load.Part{Down: load.No}, name+" up", name+" in the air", "the "+name+" is up")
	case 4:
		tell(load.Part{Hydraulics: true}, name+" on hydraulics only", name+" held up by hydraulics only")
	}
}

// text tells the clauses in some order, case and separation.
func (x told) text(t *rapid.T) string {
	order := rapid.Permutation(x.clauses).Draw(t, "order")
	for i, c := range order {
		order[i] = draw(t, "case", func(s string) string { return s }, strings.ToLower, strings.ToUpper)(c)
	}
	var b strings.Builder
	for i, c := range order {
		if i > 0 {
			b.WriteString(draw(t, "separator", ", ", "; ", "\n", ". ", " | ", "\n- "))
		}
		b.WriteString(c)
	}
	return b.String()
}

// sorted is what is told of an article without the order it was told in.
func sorted(a Article) string {
	a.Parts = slices.Clone(a.Parts)
	slices.SortFunc(a.Parts, func(p, q load.Part) int { return strings.Compare(p.Name, q.Name) })
	parts := strings.Split(printArticle(&a), " | ")
	slices.Sort(parts[1:])
	return strings.Join(parts, " | ")
}

// onlyArticle is the one article that a message describes.
func onlyArticle(t *rapid.T, m Message) Article {
	if len(m.Acts) != 1 {
		t.Fatalf("%q is read as %s", m.Text, reading(m))
	}
	d, ok := m.Acts[0].(Describe)
	if !ok || len(d.Articles) != 1 {
		t.Fatalf("%q is read as %s", m.Text, reading(m))
	}
	return d.Articles[0]
}

func TestProperty_anyOrderCaseAndSpellingIsOneReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := someLoad(t)
		text := x.text(t)
		m := Read(text)
		if m.Unread != nil {
			t.Fatalf("%q: unread %s", text, unread(m))
		}
		if got, want := sorted(onlyArticle(t, m)), sorted(x.article); got != want {
			t.Fatalf("%q\n got %s\nwant %s", text, got, want)
		}
	})
}

// nonsense draws a word that is no word, no slip of one and on no word's keys.
func nonsense(t *rapid.T) string {
	return rapid.StringMatching(`[bcdfghjklmnpqrstvwxz]{5,9}`).Filter(func(s string) bool {
		_, _, known := english().spelt(s)
		m := Read(s)
		return !known && !m.Grave && len(m.Unread) == 1 && m.Unread[0].Like == ""
	}).Draw(t, "nonsense")
}

func TestProperty_anUnknownWordIsUnreadAndTurnsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := someLoad(t)
		word := nonsense(t)
		i := rapid.IntRange(0, len(x.clauses)).Draw(t, "where")
		with := told{clauses: slices.Insert(slices.Clone(x.clauses), i, word)}
		text := strings.Join(with.clauses, draw(t, "separator", ", ", "; ", "\n", ". "))
		m := Read(text)
		if want := []Span{{Text: word, At: utf8.RuneCountInString(text[:strings.Index(text, word)])}}; !slices.Equal(m.Unread, want) {
			t.Fatalf("%q: unread %s, want %v", text, unread(m), want)
		}
		if m.Grave {
			t.Fatalf("%q: %q is grave", text, word)
		}
		if got, want := sorted(onlyArticle(t, m)), sorted(x.article); got != want {
			t.Fatalf("%q\n got %s\nwant %s", text, got, want)
		}
	})
}

// slip makes one typing error in a word: a letter missed, added, changed, or two
// neighbours swapped.
func slip(t *rapid.T, w string) string {
	i := rapid.IntRange(0, len(w)-1).Draw(t, "at")
	letter := string(rapid.ByteRange('a', 'z').Draw(t, "letter"))
	switch rapid.IntRange(0, 3).Draw(t, "slip") {
	case 0:
		return w[:i] + w[i+1:]
	case 1:
		return w[:i] + letter + w[i:]
	case 2:
		return w[:i] + letter + w[i+1:]
	}
	if i == 0 {
		i = 1
	}
	return w[:i-1] + w[i:i+1] + w[i-1:i] + w[i+1:]
}

func TestProperty_aSlipNeverMakesAnotherWord(t *testing.T) {
	d := english()
	var long []string
	for _, entries := range d.first {
		for _, e := range entries {
			for _, w := range e.words {
				if len(w) >= 6 && e.kind != kPlain {
					long = append(long, w)
				}
			}
		}
	}
	slices.Sort(long)
	rapid.Check(t, func(t *rapid.T) {
		for range 50 {
			w := rapid.SampledFrom(long).Draw(t, "word")
			typed := slip(t, w)
			if d.known[typed] || d.known[strings.TrimSuffix(typed, "s")] || d.known[strings.TrimSuffix(typed, "es")] {
				continue // another word as it stands, not one made of it
			}
			if got, _, ok := d.spelt(typed); ok && got != w && !sameMeaning(d, got, w) {
				t.Fatalf("%q, typed %q, is taken for %q", w, typed, got)
			}
		}
	})
}

// sameMeaning says whether two words stand for one thing wherever they stand
// alone.
func sameMeaning(d *dictionary, a, b string) bool {
	x, n, _ := d.longest([]spelling{{word: a}})
	y, k, _ := d.longest([]spelling{{word: b}})
	return n == 1 && k == 1 && x.kind == y.kind && x.word == y.word
}

func TestProperty_noSlipMakesANumber(t *testing.T) {
	d := english()
	numbers := []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "twenty", "thirty", "forty", "fifty"}
	rapid.Check(t, func(t *rapid.T) {
		typed := slip(t, draw(t, "number", numbers...))
		_, number := numberWords[typed]
		_, fraction := fractionWords[typed]
		if number || fraction || d.known[typed] || d.known[strings.TrimSuffix(typed, "s")] || len(typed) < 2 {
			t.Skip("another word")
		}
		text := "14000 lb roller, " + typed + " 3/8 g70 direct"
		a := onlyArticle(t, Read(text))
		if len(a.Lines) != 1 || a.Lines[0].Told || a.Weight.Told != 14000*load.Pound {
			t.Fatalf("%q is read as %s", text, printArticle(&a))
		}
	})
}

// A slip in a figure is another figure or none: no digit is ever put right.
func TestProperty_aFigureIsTakenAsItStandsOrNotAtAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.StringMatching(`[1-9][0-9]{3,5}`).Draw(t, "digits")
		i := rapid.IntRange(1, len(digits)-1).Draw(t, "at")
		typed := digits[:i] + draw(t, "stray", "o", "l", "e", "z", "/", "..", ":", "_", "%", "~", " ") + digits[i:]
		text := "roller " + typed + " lb, 4x 3/8 g70 direct"
		m := Read(text)
		whole := load.Mass(0)
		if n, err := strconv.Atoi(digits); err == nil {
			whole = load.Mass(n) * load.Pound
		}
		for _, act := range m.Acts {
			d, ok := act.(Describe)
			if !ok {
				t.Fatalf("%q is read as %s", text, reading(m))
			}
			for _, a := range d.Articles {
				if w := a.Weight.Told; w != 0 && w != whole && !m.Grave {
					t.Fatalf("%q is read as %s, nothing grave", text, reading(m))
				}
			}
		}
	})
}

func TestProperty_anyMessageIsMappedWhole(t *testing.T) {
	var all []string
	for _, entries := range english().first {
		for _, e := range entries {
			all = append(all, strings.Join(e.words, " "))
		}
	}
	all = append(all, "14000", "4x", "x4", "(4)", "3/8", "g70", "10mm", "2in", "18 ft", "14000 lb", "7 tons", "-3", "0", "14.000", "9200", "5/16-3/8", "140 miles", ",", ".", "\n", "?", ";", "florp", "🚜", "é")
	slices.Sort(all)
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(all), 0, 30).Draw(t, "words"), draw(t, "gap", " ", ", ", "\n", " ", " "))
		if err := mapped(text, Read(text)); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
	})
}
