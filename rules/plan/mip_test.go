package plan

import (
	"bufio"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"halfweight/rules"
	"halfweight/rules/load"
)

// The oracle is GLPK's glpsol, a general solver of mixed integer programs. It is
// given each case as a program written here from the case alone, with the ratings
// and weights of testdata/reference; nothing of the planner, of the rules or of
// their tables goes into it.

// mipCase is a random load and gear.
type mipCase struct {
	articles []mipArticle
	gear     []mipGear
	spare    bool
	direct   bool // the way with all direct is asked for
	least    int  // lb, the least rating of one at a corner or end; 0 any
	without  load.Material
}

type mipArticle struct {
	art     load.Article
	weight  int // lb
	corners int // tie-downs its corners or ends ask for; 0 none
	number  int // tie-downs asked for in all
	parts   int // parts and joints to be tied over
	on      int // direct ones that are on already, of gear kind onKind
	onKind  int
}

type mipGear struct {
	tie    load.TieDown
	count  int
	rating int // lb, the least of its parts', a binder not told the commonest weaker one
	weight int // hundredths of a pound per foot
}

func reference(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, cells := range all[1:] {
		m := make(map[string]string)
		for i, c := range cells {
			m[all[0][i]] = c
		}
		out = append(out, m)
	}
	return out
}

// shelf is every chain and strap of the published tables as gear, one of each.
func shelf(t testing.TB) []mipGear {
	weights := make(map[string]int)
	for _, m := range reference(t, "weight.csv") {
		w, err := strconv.ParseFloat(m["lb_per_ft"], 64)
		if err != nil {
			t.Fatal(err)
		}
		weights[m["material"]+m["size_in"]+m["grade"]] = int(w*100 + 0.5)
	}
	weaker := map[string]int{"3/8": 5400, "1/2": 9200} // testdata/reference/binders.csv
	var list []mipGear
	for _, m := range reference(t, "chain.csv") {
		rating, _ := strconv.Atoi(m["wll_lb"])
		g := mipGear{weight: weights["chain"+m["size_in"]+m["grade"]], rating: rating}
		g.tie = load.TieDown{Material: load.Chain, Size: inches(m["size_in"]), SizeWord: m["size_in"], Grade: load.Grade{Value: m["grade"], Reading: load.Read}}
		told := g
		told.tie.Tensioner.Rating = load.Mass(rating) * load.Pound
		list = append(list, told)
		if w, ok := weaker[m["size_in"]]; ok && w < rating {
			g.rating = w
			list = append(list, g)
		}
	}
	for _, m := range reference(t, "webbing.csv") {
		rating, _ := strconv.Atoi(m["wll_lb"])
		list = append(list, mipGear{
			tie:    load.TieDown{Material: load.Webbing, Size: inches(m["width_in"]), SizeWord: m["width_in"]},
			rating: rating, weight: weights["webbing"+m["width_in"]],
		})
	}
	for i := range list {
		if list[i].weight == 0 || list[i].rating == 0 {
			t.Fatalf("%+v has no weight or no rating", list[i])
		}
	}
	return list
}

func inches(s string) load.Length {
	if top, bottom, ok := strings.Cut(s, "/"); ok {
		a, _ := strconv.Atoi(top)
		b, _ := strconv.Atoi(bottom)
		return load.Inch * load.Length(a) / load.Length(b)
	}
	f, _ := strconv.ParseFloat(s, 64)
	return load.Length(f * float64(load.Inch))
}

func randomCase(r *rand.Rand, shelf []mipGear) mipCase {
	c := mipCase{spare: r.IntN(6) == 0, direct: r.IntN(6) == 0}
	for range 1 + r.IntN(8) {
		g := shelf[r.IntN(len(shelf))]
		if g.count = 1 + r.IntN(10); r.IntN(5) == 0 {
			g.count = Plenty
		}
		c.gear = append(c.gear, g)
	}
	if r.IntN(6) == 0 {
		c.least = []int{2600, 4700, 6600}[r.IntN(3)]
	}
	if r.IntN(8) == 0 {
		c.without = load.Webbing
	}
	articles := 1
	if r.IntN(3) == 0 {
		articles += 1 + r.IntN(2)
	}
	for range articles {
		c.articles = append(c.articles, randomArticle(r, &c))
	}
	return c
}

func randomArticle(r *rand.Rand, c *mipCase) mipArticle {
	a := mipArticle{weight: 10000 + 100*r.IntN(500), corners: 4}
	if r.IntN(3) == 0 {
		a.weight, a.corners = 1500+10*r.IntN(849), 2
	}
	switch r.IntN(8) {
	case 0:
		a.art = load.Article{Name: "tractor", Kind: "tractor"}
	case 1:
		a.art = load.Article{Name: "pickup", Kind: "pickup"}
		if a.weight == 10000 {
			a.corners = 2 // 393.128 is for those of 10,000 lb or less
		}
	case 2:
		a.art, a.parts = load.Article{Name: "dozer", Kind: "dozer"}, 1
	case 3:
		a.art, a.parts = load.Article{Name: "dozer", Kind: "dozer", Parts: []load.Part{{Name: "ripper", Word: "ripper"}}}, 2
	case 4:
		a.art, a.parts = load.Article{Name: "loader", Kind: "wheel loader"}, 2
	case 5:
		a.art, a.parts = load.Article{Name: "roller", Kind: "roller"}, 1
	case 6:
		a.art = load.Article{Name: "roller", Kind: "roller", Joint: load.Joint{Locked: load.Yes, How: load.LockBar}}
	case 7:
		feet := 1 + r.IntN(45)
		a.art = load.Article{Name: "crate", Kind: "crate", Length: load.Length(feet) * load.Foot, Blocked: load.No}
		a.corners, a.number = 0, byLength(feet, a.weight)
		if r.IntN(3) == 0 {
			a.art.Blocked, a.number = load.Yes, (feet+9)/10
		}
	}
	a.art.Weight = load.Exact(load.Mass(a.weight)*load.Pound, false)
	if a.corners > 0 && c.least == 0 && r.IntN(4) == 0 {
		a.on, a.onKind = 1+r.IntN(3), r.IntN(len(c.gear))
		for i := range a.on {
			x := c.gear[a.onKind].tie
			x.ID, x.Line, x.Route = 1+i, 1, load.Direct
			x.Tensioner.Has = load.Yes
			a.art.Ties = append(a.art.Ties, x)
		}
	}
	return a
}

// byLength is 49 CFR 393.110(b).
func byLength(feet, weight int) int {
	switch {
	case feet <= 5 && weight <= 1100:
		return 1
	case feet <= 10:
		return 2
	}
	return 2 + (feet-10+9)/10
}

func (c *mipCase) ask() Ask {
	a := Ask{Set: rules.Federal, Spare: c.spare}
	if c.without != "" {
		a.Exclude = []load.Material{c.without}
	}
	for _, x := range c.articles {
		a.Load.Articles = append(a.Load.Articles, x.art)
	}
	for _, g := range c.gear {
		a.Gear = append(a.Gear, Stock{g.tie, g.count})
	}
	return a
}

// program writes the case for glpsol: stage 1 asks for the fewest pieces; stage 2
// for the least weight of that many; stage 3 for the most credit of those. Credits
// are in half pounds.
func (c *mipCase) program(stage, pieces, weight int) string {
	var sb strings.Builder
	all := func(each func(j, k int, role, name string, credit int)) {
		for j := range c.articles {
			for k, g := range c.gear {
				each(j, k, "d", fmt.Sprintf("x%d_%d_d", j, k), g.rating)
				each(j, k, "o", fmt.Sprintf("x%d_%d_o", j, k), 2*g.rating)
			}
		}
	}
	var count, weigh, credit string
	all(func(j, k int, role, name string, cr int) {
		count += " + " + name
		weigh += fmt.Sprintf(" + %d %s", c.gear[k].weight, name)
		credit += fmt.Sprintf(" + %d %s", cr, name)
	})
	switch stage {
	case 1:
		fmt.Fprintf(&sb, "Minimize\n obj: %s\nSubject To\n", count)
	case 2:
		fmt.Fprintf(&sb, "Minimize\n obj: %s\nSubject To\n pieces: %s = %d\n", weigh, count, pieces)
	case 3:
		fmt.Fprintf(&sb, "Maximize\n obj: %s\nSubject To\n pieces: %s = %d\n weight: %s = %d\n", credit, count, pieces, weigh, weight)
	}
	lost := 0
	if c.spare {
		lost = 1
	}
	for j, a := range c.articles {
		var direct, over, sum string
		for k, g := range c.gear {
			direct += fmt.Sprintf(" + x%d_%d_d", j, k)
			over += fmt.Sprintf(" + x%d_%d_o", j, k)
			sum += fmt.Sprintf(" + %d x%d_%d_d + %d x%d_%d_o", g.rating, j, k, 2*g.rating, j, k)
		}
		corners := 0
		if a.corners > 0 {
			corners = max(0, a.corners+lost-a.on, 2*(1+lost)-a.on)
		}
		parts := a.parts * (1 + lost)
		if c.direct && a.corners > 0 {
			fmt.Fprintf(&sb, " d%d: %s >= %d\n o%d: %s = %d\n", j, direct, corners, j, over, parts)
		} else {
			fmt.Fprintf(&sb, " d%d: %s = %d\n o%d: %s >= %d\n", j, direct, corners, j, over, parts)
		}
		if a.number > 0 {
			fmt.Fprintf(&sb, " n%d: %s %s >= %d\n", j, direct, over, a.number+lost)
		}
		has := 0
		if a.on > 0 {
			has = a.on * c.gear[a.onKind].rating
		}
		if c.spare {
			sum += fmt.Sprintf(" - m%d", j)
		}
		fmt.Fprintf(&sb, " c%d: %s >= %d\n", j, sum, a.weight-has)
	}
	for k, g := range c.gear {
		if g.count == Plenty {
			continue
		}
		fmt.Fprintf(&sb, " g%d:", k)
		for j := range c.articles {
			fmt.Fprintf(&sb, " + x%d_%d_d + x%d_%d_o", j, k, j, k)
		}
		fmt.Fprintf(&sb, " <= %d\n", g.count)
	}
	all(func(j, k int, role, name string, cr int) {
		if g := &c.gear[k]; g.tie.Material == c.without || role == "d" && g.rating < c.least {
			fmt.Fprintf(&sb, " z%s: %s = 0\n", name, name)
		}
	})
	var ints, bins, bounds string
	all(func(j, k int, role, name string, cr int) {
		ints += " " + name
		if !c.spare {
			return
		}
		used := "u" + name[1:]
		bins += " " + used
		fmt.Fprintf(&sb, " s%s: %s - 200 %s <= 0\n t%s: m%d - %d %s >= 0\n", name, name, used, name, j, cr, used)
	})
	if c.spare {
		for j, a := range c.articles {
			if a.on > 0 {
				bounds += fmt.Sprintf(" m%d >= %d\n", j, c.gear[a.onKind].rating)
			}
		}
	}
	fmt.Fprintf(&sb, "Bounds\n%sGeneral\n%s\n", bounds, ints)
	if bins != "" {
		fmt.Fprintf(&sb, "Binary\n%s\n", bins)
	}
	sb.WriteString("End\n")
	return sb.String()
}

// errGaveUp is glpsol out of the time it is given, or finding no solution where it
// found one before.
var errGaveUp = errors.New("glpsol gave up")

// glpsol solves a program; ok is false where it has no solution. On a few programs
// it would take many minutes.
func glpsol(t testing.TB, path, program string, seconds int) (value int, ok bool, err error) {
	if err := os.WriteFile(path+".lp", []byte(program), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("glpsol", "--tmlim", strconv.Itoa(seconds), "--lp", path+".lp", "-o", path+".out").CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s", err, out)
	}
	if strings.Contains(string(out), "TIME LIMIT EXCEEDED") {
		return 0, false, errGaveUp
	}
	f, err := os.Open(path + ".out")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for in := bufio.NewScanner(f); in.Scan(); {
		switch line := in.Text(); {
		case strings.HasPrefix(line, "Status:"):
			ok = strings.Contains(line, "INTEGER OPTIMAL")
			if !ok && !strings.Contains(line, "INTEGER EMPTY") && !strings.Contains(line, "UNDEFINED") {
				t.Fatalf("glpsol: %s", line)
			}
		case strings.HasPrefix(line, "Objective:"):
			fields := strings.Fields(line)
			v, err := strconv.ParseFloat(fields[3], 64)
			if err != nil {
				t.Fatalf("glpsol: %s: %v", line, err)
			}
			return int(v + 0.5), ok, nil
		}
	}
	t.Fatalf("glpsol wrote no objective")
	return 0, false, nil
}

// optimum is what glpsol finds best, by the three aims in turn.
func (c *mipCase) optimum(t testing.TB, path string) (pieces, weight, credit int, ok bool, err error) {
	seconds := 20
	if len(c.articles) >= 5 {
		seconds = 4 // it proves such a case at once or hardly ever
	}
	if pieces, ok, err = glpsol(t, path, c.program(1, 0, 0), seconds); !ok || pieces == 0 {
		return pieces, 0, 0, ok, err
	}
	if weight, ok, err = glpsol(t, path, c.program(2, pieces, 0), seconds); !ok || err != nil {
		return 0, 0, 0, false, errGaveUp
	}
	if credit, ok, err = glpsol(t, path, c.program(3, pieces, weight), seconds); !ok || err != nil {
		return 0, 0, 0, false, errGaveUp
	}
	return pieces, weight, credit, true, nil
}

var cases = flag.Int("cases", 200, "random cases with an optimum to compare with glpsol")

func TestMake_findsWhatAGeneralSolverFinds(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Skip("glpsol is not installed (Debian: glpk-utils): plans are not compared with a general solver")
	}
	want := *cases
	stock, dir := shelf(t), t.TempDir()
	var mu sync.Mutex
	var ours, theirs []time.Duration
	seed, filled, none, cut, gaveUp := uint64(0), 0, 0, 0, 0
	kinds := make(map[string]int)
	next := func() (uint64, bool) {
		mu.Lock()
		defer mu.Unlock()
		seed++
		return seed, filled < want
	}
	many, manyCut, manyGaveUp := 0, 0, 0 // of five articles and more
	check := func(worker int, seed uint64) {
		r0 := rand.New(rand.NewPCG(seed, 1))
		c := randomCase(r0, stock)
		if seed%20 == 0 {
			for n := 5 + r0.IntN(4); len(c.articles) < n; {
				c.articles = append(c.articles, randomArticle(r0, &c))
			}
		}
		a := c.ask()
		r, took := timed(a)
		from := time.Now()
		pieces, weight, credit, ok, err := c.optimum(t, filepath.Join(dir, strconv.Itoa(worker)))
		solved := time.Since(from)
		plan, made := Plan{}, len(r.Plans) > 0
		if made {
			plan = r.Plans[0]
		}
		if c.direct || c.least > 0 {
			plan, made = c.planned(a)
		}
		mu.Lock()
		defer mu.Unlock()
		if err != nil {
			if len(c.articles) >= 5 {
				manyGaveUp++
			} else {
				gaveUp++
			}
			return
		}
		if made != ok {
			t.Errorf("case %d: planned %v, glpsol %v", seed, made, ok)
			return
		}
		if !ok {
			none++
			return
		}
		if pieces == 0 {
			return // nothing lacks
		}
		if len(c.articles) >= 5 {
			many++
			if !plan.Proven {
				manyCut++
			}
		}
		if !plan.Proven {
			cut++
			if got := plan.numbers(&a); !worse(got, [3]int{pieces, weight, credit}) {
				t.Errorf("case %d: %v, not proven, is better than glpsol's %v", seed, got, [3]int{pieces, weight, credit})
			}
			filled++
			return
		}
		ours, theirs = append(ours, took), append(theirs, solved)
		if got := plan.numbers(&a); got != [3]int{pieces, weight, credit} {
			t.Errorf("case %d: pieces, weight, credit %v; glpsol finds %v\n%+v", seed, got, [3]int{pieces, weight, credit}, plan.Lines)
		}
		filled++
		c.sort(kinds)
	}
	var wg sync.WaitGroup
	for worker := range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for s, more := next(); more && !t.Failed(); s, more = next() {
				check(worker, s)
			}
		})
	}
	wg.Wait()
	slices.Sort(ours)
	slices.Sort(theirs)
	at := func(d []time.Duration, share float64) time.Duration { return d[int(share*float64(len(d)-1))] }
	t.Logf("%d cases with an optimum, %d without; %d not proven, on %d glpsol gave up; %v", filled, none, cut, gaveUp, kinds)
	t.Logf("of five articles and more %d, %d not proven, on %d glpsol gave up", many, manyCut, manyGaveUp)
	t.Logf("planner, all its ways: median %v, 99th percentile %v, longest %v", at(ours, 0.5), at(ours, 0.99), at(ours, 1))
	t.Logf("glpsol, the best way:  median %v, 99th percentile %v, longest %v", at(theirs, 0.5), at(theirs, 0.99), at(theirs, 1))
	if gaveUp > 1+want/100 {
		t.Errorf("glpsol gave up on %d cases", gaveUp)
	}
	if cut > 1+want/100 {
		t.Errorf("%d plans are not proven", cut)
	}
	for _, kind := range []string{"corners", "ends", "number", "parts", "on already", "one spare", "all direct", "a least rating", "a material left out", "several articles", "shared gear"} {
		if kinds[kind] < want/100 {
			t.Errorf("only %d cases with %s", kinds[kind], kind)
		}
	}
}

// worse says whether pieces, weight and credit are no better than others.
func worse(a, b [3]int) bool {
	return slices.Compare([]int{a[0], a[1], -a[2]}, []int{b[0], b[1], -b[2]}) >= 0
}

// planned is the one way asked for. No federal rule asks a least rating of each;
// the model is told of it as it would be by a house rule.
func (c *mipCase) planned(a Ask) (Plan, bool) {
	p := newPlanner(a)
	for j := range p.model.wants {
		for k := range p.model.kinds {
			if p.model.kinds[k].wll < load.Mass(c.least)*load.Pound {
				p.model.wants[j].of[k].direct = barred
			}
		}
	}
	if c.direct {
		return p.plan(Direct, nil)
	}
	return p.plan(Best, nil)
}

// timed makes a plan and says how long that took: of one that took long the
// shortest of three, for the machine may have been busy with something else.
func timed(a Ask) (r Result, took time.Duration) {
	const long = 5 * time.Millisecond
	for i := range 3 {
		from := time.Now()
		r = Make(a)
		if d := time.Since(from); i == 0 || d < took {
			took = d
		}
		if took < long {
			break
		}
	}
	return r, took
}

// numbers is what a plan comes to: pieces, hundredths of a pound per foot, half
// pounds of credit.
func (p *Plan) numbers(a *Ask) [3]int {
	var credit load.Mass
	before := rules.Evaluate(a.Load, a.Set)
	for i := range p.Report.Articles {
		credit += p.Report.Articles[i].Weaker - before.Articles[i].Weaker
	}
	return [3]int{p.Pieces, int(p.Weight), int(credit / (load.Pound / 2))}
}

// sort counts what kinds of demand a case has.
func (c *mipCase) sort(kinds map[string]int) {
	count := func(kind string, is bool) {
		if is {
			kinds[kind]++
		}
	}
	has := func(is func(mipArticle) bool) bool { return slices.ContainsFunc(c.articles, is) }
	count("corners", has(func(a mipArticle) bool { return a.corners == 4 }))
	count("ends", has(func(a mipArticle) bool { return a.corners == 2 }))
	count("number", has(func(a mipArticle) bool { return a.number > 0 }))
	count("parts", has(func(a mipArticle) bool { return a.parts > 0 }))
	count("on already", has(func(a mipArticle) bool { return a.on > 0 }))
	count("one spare", c.spare)
	count("all direct", c.direct)
	count("a least rating", c.least > 0)
	count("a material left out", c.without != "" && slices.ContainsFunc(c.gear, func(g mipGear) bool { return g.tie.Material == c.without }))
	count("several articles", len(c.articles) > 1)
	m := newPlanner(c.ask()).model
	s := newSharing(&m, 200)
	ways, _, ok := s.relaxed(nil)
	count("shared gear", ok && !s.fits(ways))
}
