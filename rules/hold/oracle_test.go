package hold

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// row is a line of a file of testdata/hold by its columns.
type row map[string]string

func (r row) float(t *testing.T, column string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("%v: %s: %v", r, column, err)
	}
	return f
}

func file(t *testing.T, name string) (rows []row) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "hold", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, cells := range lines[1:] {
		r := row{}
		for i, cell := range cells {
			r[lines[0][i]] = cell
		}
		rows = append(rows, r)
	}
	return rows
}

// oracle is a configuration of cases.csv with its cables.
type oracle struct {
	what   string
	block  Block
	cables []Cable
}

func oracles(t *testing.T) map[string]*oracle {
	t.Helper()
	all := map[string]*oracle{}
	for _, r := range file(t, "cases.csv") {
		mu := r.float(t, "friction")
		all[r["case"]] = &oracle{what: r["what"], block: Block{
			Weight: r.float(t, "weight_lb"), Along: mu, Across: mu,
			Length: r.float(t, "base_length_ft"), Width: r.float(t, "base_width_ft"),
			CG: Vec{r.float(t, "cg_x_ft"), r.float(t, "cg_y_ft"), r.float(t, "cg_height_ft")},
		}}
	}
	for _, r := range file(t, "cables.csv") {
		o := all[r["case"]]
		o.cables = append(o.cables, Cable{
			At:   Vec{r.float(t, "at_x"), r.float(t, "at_y"), r.float(t, "at_z")},
			Pull: Vec{r.float(t, "pull_x"), r.float(t, "pull_y"), r.float(t, "pull_z")},
			Most: r.float(t, "most_lb"), Slack: r.float(t, "slack_lb"), Clamp: r["kind"] == "over",
		})
	}
	return all
}

func direction(t *testing.T, name string) Direction {
	t.Helper()
	for _, d := range Directions {
		if d.String() == name {
			return d
		}
	}
	t.Fatalf("no direction %q", name)
	return 0
}

// near is 0.001 g.
const near = 0.001

// The figures of testdata/hold/answers.csv were worked out by two other solvers
// (its README tells which) from the same model; the closed forms by a third way.
func TestPrograms_giveWhatOtherSolversGave(t *testing.T) {
	cases := oracles(t)
	rows := file(t, "answers.csv")
	if len(cases) != 31 || len(rows) != 124 {
		t.Fatalf("%d cases and %d answers, want 31 and 124", len(cases), len(rows))
	}
	closed := 0
	for _, r := range rows {
		o, d := cases[r["case"]], direction(t, r["direction"])
		for _, c := range []struct {
			name   string
			solve  func(Block, []Cable, Direction) (float64, error)
			column string
		}{
			{"slide", Slide, "slide_g"}, {"slide", Slide, "slide_glpk_g"}, {"tip", Tip, "tip_g"},
			{"full", Full, "full_g"}, {"full", Full, "full_glpk_g"},
		} {
			got, err := c.solve(o.block, o.cables, d)
			if want := r.float(t, c.column); err != nil || math.Abs(got-want) > near {
				t.Errorf("%s %s: %s %.4f, %v; want %.4f (%s)", r["case"], d, c.name, got, err, want, c.column)
			}
		}
		if got, ok := TipClosed(o.block, o.cables, d); !ok || math.Abs(got-r.float(t, "tip_closed_g")) > near {
			t.Errorf("%s %s: tips in closed form at %.4f, %v; want %s", r["case"], d, got, ok, r["tip_closed_g"])
		}
		got, ok := SlideClosed(o.block, o.cables, d)
		if r["slide_closed_g"] == "" {
			if ok {
				t.Errorf("%s %s: a closed form, %.4f, for pulls that do not cancel", r["case"], d, got)
			}
			continue
		}
		closed++
		if !ok || math.Abs(got-r.float(t, "slide_closed_g")) > near {
			t.Errorf("%s %s: slides in closed form at %.4f, %v; want %s", r["case"], d, got, ok, r["slide_closed_g"])
		}
	}
	if closed != 114 {
		t.Errorf("%d closed forms of sliding, want 114", closed)
	}
}
