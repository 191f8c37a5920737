package rules_test

import (
	"fmt"
	"strings"
	"testing"

	"halfweight/rules/load"
)

// demands prints what the rules ask of an article's tie-downs and what it has.
func demands(a load.Article) string {
	var list []string
	for _, d := range evaluate(a).Demands {
		s := d.Rule
		if d.Subject != "" {
			s += ":" + d.Subject
		}
		switch h := d.Have; {
		case d.Credit > 0:
			s += fmt.Sprintf(" %v of %v", h.Credit.Pounds(), d.Credit.Pounds())
		case d.Ends > 0:
			s += fmt.Sprintf(" front %d of %d, rear %d of %d, %d free, %d in all", h.Front, d.Front, h.Rear, d.Rear, h.Free, d.Ends)
		case d.Number > 0:
			s += fmt.Sprintf(" %d of %d", h.Number, d.Number)
		case d.On != "":
			s += fmt.Sprintf(" %d on the %s", h.Number, d.On)
			if h.Told {
				s += ", told"
			}
			if len(d.Lower) > 0 {
				s += ", lower " + strings.Join(d.Lower, " and ")
			}
		}
		list = append(list, s)
	}
	return strings.Join(list, "; ")
}

// Source: what each section asks, as the files of the rules tell it; one tie-down
// over a bucket, its stick or its boom holds all of them (own reading, accessory.go).
func TestDemands_areWhatTheRulesAskAndWhatThereIs(t *testing.T) {
	chain := load.TieDown{ID: 1, Material: load.Chain, Size: load.Inch * 3 / 8, Grade: load.Grade{Value: "70", Reading: load.Read}, Route: load.Direct}
	at := func(t load.TieDown, id int, p load.Place) load.TieDown { t.ID, t.Place = id, p; return t }
	weighs := func(lb load.Mass, a load.Article) load.Article {
		a.Weight = load.Exact(lb*load.Pound, false)
		return a
	}
	for _, c := range []struct {
		what string
		art  load.Article
		want string
	}{
		{"an excavator with nothing on", weighs(40000, load.Article{Kind: "excavator"}),
			"aggregate 0 of 20000; corners front 0 of 1, rear 0 of 1, 0 free, 4 in all; accessory:bucket 0 on the bucket"},
		{"direct ones with no place hold where one lacks, the binder not told is the weaker one", weighs(20000, load.Article{Kind: "tractor", Ties: []load.TieDown{
			at(chain, 1, load.Place{}), at(chain, 2, load.Place{End: "front"})}}),
			"aggregate 5400 of 10000; corners front 1 of 1, rear 0 of 1, 1 free, 4 in all"},
		{"a loose one gives nothing", weighs(9000, load.Article{Kind: "tractor", Ties: []load.TieDown{
			{ID: 1, Material: load.Webbing, Size: 4 * load.Inch, Route: load.Direct, State: load.State{Tight: load.No}}}}),
			"aggregate 0 of 4500; ends front 0 of 1, rear 0 of 1, 0 free, 2 in all"},
		{"one over the bucket holds the boom told of too", weighs(40000, load.Article{Kind: "excavator", Parts: []load.Part{
			{Name: "boom", Word: "boom"}, {Name: "bucket", Word: "bucket"}}}),
			"aggregate 0 of 20000; corners front 0 of 1, rear 0 of 1, 0 free, 4 in all; accessory:boom 0 on the boom"},
		{"of two tools and an arm the arm, which holds both", weighs(40000, load.Article{Kind: "excavator", Parts: []load.Part{
			{Name: "bucket", Word: "bucket"}, {Name: "grapple", Word: "grapple"}, {Name: "stick", Word: "stick"}}}),
			"aggregate 0 of 20000; corners front 0 of 1, rear 0 of 1, 0 free, 4 in all; accessory:stick 0 on the stick"},
		{"a loose part takes one of its own", weighs(40000, load.Article{Kind: "excavator", Parts: []load.Part{
			{Name: "boom", Word: "boom"}, {Name: "bucket", Word: "bucket", Loose: true}}}),
			"aggregate 0 of 20000; corners front 0 of 1, rear 0 of 1, 0 free, 4 in all; accessory:bucket 0 on the bucket"},
		{"what rides up is lowered first", weighs(40000, load.Article{Kind: "dozer", Parts: []load.Part{{Name: "blade", Word: "blade", Down: load.No}}}),
			"aggregate 0 of 20000; corners front 0 of 1, rear 0 of 1, 0 free, 4 in all; accessory:blade 0 on the blade, lower blade"},
		{"told tied by what was not told", weighs(40000, load.Article{Kind: "dozer", Parts: []load.Part{{Name: "blade", Word: "blade", Tied: load.Yes}}}),
			"aggregate 0 of 20000; corners front 0 of 1, rear 0 of 1, 0 free, 4 in all; accessory:blade 0 on the blade, told"},
		{"a lock asks for none, a joint across asks for another when one is lost", weighs(14000, load.Article{Kind: "roller", Ties: []load.TieDown{at(chain, 1, load.Place{On: "joint"})}}),
			"aggregate 2700 of 7000; corners front 0 of 1, rear 0 of 1, 0 free, 4 in all; articulation 1 on the joint"},
		{"joint locked", weighs(14000, load.Article{Kind: "roller", Joint: load.Joint{Locked: load.Yes, How: load.LockBar}}),
			"aggregate 0 of 7000; corners front 0 of 1, rear 0 of 1, 0 free, 4 in all"},
		{"by length", weighs(4000, load.Article{Kind: "crate", Length: 25 * load.Foot, Blocked: load.No}),
			"aggregate 0 of 2000; number 0 of 4"},
	} {
		t.Run(c.what, func(t *testing.T) {
			if got := demands(c.art); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}
