package parser

import (
	"fmt"
	"strings"
	"testing"

	"halfweight/rules/load"
)

func micro(m load.Micro) string { return strings.TrimSuffix(fmt.Sprintf("%g", float64(m)/1e6), ".0") }

// printHold prints what a hold question tells, for people to check.
func printHold(h Hold) string {
	var out []string
	add := func(yes bool, format string, args ...any) {
		if yes {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	feet := func(l load.Length) string { return fmt.Sprintf("%.4g ft", l.Inches()/12) }
	add(h.Contact != "", "%s", h.Contact)
	add(h.Tracks, "tracks")
	add(h.Deck != "", "on %s", h.Deck)
	add(h.Surface != "", "%s", h.Surface)
	add(h.Friction > 0, "friction %s", micro(h.Friction))
	for _, a := range h.Angles {
		add(a.Material != "", "%s", a.Material)
		add(a.Up > 0, "up %s", micro(a.Up))
		add(a.OutTold, "out %s", micro(a.Out))
	}
	add(h.Height > 0, "height %s", feet(h.Height))
	add(h.Width > 0, "width %s", feet(h.Width))
	add(h.Length > 0, "length %s", feet(h.Length))
	add(len(h.Odd) > 0, "odd %s", strings.Join(h.Odd, " "))
	add(h.Doubt, "doubt")
	return strings.Join(out, " ")
}

func TestRead_whatAHoldQuestionTells(t *testing.T) {
	for _, c := range []struct{ text, want, unread string }{
		{"hold", "", ""},
		{"Hold?", "", ""},
		{"so hold", "", ""},
		{"hold check please", "", ""},
		{"hold rubber on wet steel", "rubber on steel wet", ""},
		{"hold steel on steel", "steel on steel", ""},
		{"hold steel tracks on a wet wood deck", "steel tracks on wood wet", ""},
		{"hold rubber tires on wood", "rubber on wood", ""},
		{"hold tyres on aluminium, dry", "rubber on steel dry", ""},
		{"hold on wet steel", "on steel wet", ""},
		{"hold on ice", "slick", ""},
		{"hold icy", "slick", ""},
		{"hold wet, then icy", "slick", ""},
		{"hold muddy deck", "slick", ""},
		{"hold with rubber mats under it", "mat", ""},
		{"hold rubber mat on steel", "mat on steel", ""},
		{"hold friction 0.35", "friction 0.35", ""},
		{"hold mu .4", "friction 0.4", ""},
		{"hold 0.4 friction", "friction 0.4", ""},
		{"hold chains at 45, 30 out", "chain up 45 out 30", ""},
		{"hold chains at 45 degrees, 30 degrees out", "chain up 45 out 30", ""},
		{"hold chains at 45°, 30° out", "chain up 45 out 30", ""},
		{"hold at 45", "up 45", ""},
		{"hold 45 and 30 out", "up 45 out 30", ""},
		{"hold chains at 45, straps at 60", "chain up 45 webbing up 60", ""},
		{"hold 45 and 30", "up 45 out 30", ""},
		{"hold chains at 45 deg and 30 deg", "chain up 45 out 30", ""},
		{"hold front chains at 45, rear at 60", "odd 45 60", ""},
		{"hold chains at 45, at 60", "chain up 45 odd 60", ""},
		{"hold rubber on wet steel. chains at 45, 30 out", "rubber on steel wet chain up 45 out 30", ""},
		{"hold rubber on wet steel\nchains at 45, 30 out\ncg 5 ft", "rubber on steel wet chain up 45 out 30 height 5 ft", ""},
		{"hold 4 chains on ice", "slick doubt", "4"},
		{"hold 0 out", "out 0", ""},
		{"hold chains at 450", "odd 450", "450"},
		{"hold chains at 0", "odd 0", "0"},
		{"hold chains at 90", "odd 90", ""},
		{"hold chains at 45, 120 out", "chain up 45 odd 120", ""},
		{"hold cg 5 ft, track 8 ft wide", "height 5 ft width 8 ft", ""},
		{"hold cg 5 ft track 8 ft wide base 12 ft long", "height 5 ft width 8 ft length 12 ft", ""},
		{"hold 5 ft cg, 8 ft wide, 12 ft wheelbase", "height 5 ft width 8 ft length 12 ft", ""},
		{"hold center of gravity 60 in, 8 ft wide", "height 5 ft width 8 ft", ""},
		{"hold cg 5, track 8", "", "5 8"},
		{"hold cg 1.5 m, track 240 cm wide", "height 4.921 ft width 7.874 ft", ""},
		{"hold rubbr on wet steeel", "rubber on steel wet", ""},
		{"hold conctete on wood", "on wood doubt", "conctete"},
		{"what about on ice", "slick", ""},
		{"what about rubber on wet wood?", "rubber on wood wet", ""},
		{"hold rubber on wet wood, chains at 45, 30 out, cg 4 ft, 7 ft wide", "rubber on wood wet chain up 45 out 30 height 4 ft width 7 ft", ""},
		{"how many g", "", ""},
		{"how many g will it hold", "", ""},
		{"how many g's does it hold on ice", "slick", ""},
		{"does it hold if I hit the brakes on wet steel?", "on steel wet", ""},
		{"how hard can i brake", "", ""},
		{"hold does it hold 0.8 g", "", ""},
		{"hold plastic on steel", "on steel doubt", "plastic"},
		{"hold plastic on glass", "doubt", "plastic glass"},
		{"hold tracks on wood", "tracks on wood", ""},
		{"hold rubber tracks on dry wood", "rubber tracks on wood dry", ""},
		{"hold rubber on gravel", "rubber doubt", "gravel"},
		{"hold cg 500 ft", "", "500 ft"},
	} {
		m := Read(c.text)
		if len(m.Acts) != 1 {
			t.Errorf("%q reads as %s", c.text, reading(m))
			continue
		}
		ask, ok := m.Acts[0].(Ask)
		if !ok || ask.Topic != "hold" {
			t.Errorf("%q reads as %s", c.text, reading(m))
			continue
		}
		if got := printHold(ask.Hold); got != c.want {
			t.Errorf("%q tells %q, want %q", c.text, got, c.want)
		}
		if got := unread(m); (got != "") != (c.unread != "") && !strings.HasPrefix(c.want, "odd") {
			t.Errorf("%q leaves %s unread, want %q", c.text, got, c.unread)
		}
	}
}

func TestRead_whatIsNoHoldQuestion(t *testing.T) {
	for _, text := range []string{
		"hold on the front left is loose", "hold on a sec", "hold up", "hold on", "hold on, chain came off",
		"14000 lb roller, 4x 3/8 g70 direct, will that hold", "how many g70 3/8 for 52000", "how many g 70 3/8 for 52000",
		"front left came loose after a panic stop", "strap is cut, hit the brakes", "how many 3/8 g70 to hold 52000", "does a boom lock hold",
		"will 4 hold", "hold my beer", "what about the bucket", "what if it is loose", "what about 4 chains", "hold on, the front left one on the roller is loose", "a chain snapped when i hit the brakes",
	} {
		for _, act := range Read(text).Acts {
			if a, ok := act.(Ask); ok && a.Topic == "hold" {
				t.Errorf("%q is read as a hold question", text)
			}
		}
	}
}

func TestRead_whatFollowsAHoldQuestionMayBeALoad(t *testing.T) {
	for text, want := range map[string]string{
		"hold. add 2x 3/8 g70 over":                    "add 2 chain 3/8 g70 over ; ask hold",
		"hold rubber on steel\nfront left is loose":    "change it front left -> loose ; ask hold",
		"hold wet\n14000 lb roller, 4x 3/8 g70 direct": "roller 14000 lb | 4 chain 3/8 g70 direct ; ask hold",
		"hold wet. 4 chains":                           "4 chain ; ask hold",
	} {
		if got := reading(Read(text)); got != want {
			t.Errorf("%q reads as %s, want %s", text, got, want)
		}
	}
}

func TestRead_aLoadAndAHoldQuestionInOneMessage(t *testing.T) {
	for _, text := range []string{
		"14000 lb roller, lock bar in, 4x 3/8 g70 direct. hold rubber on wet steel",
		"14000 lb roller, lock bar in, 4x 3/8 g70 direct\nhold rubber on wet steel",
		"14000 lb roller, lock bar in, 4x 3/8 g70 direct, hold rubber on wet steel",
	} {
		m := Read(text)
		if got := reading(m); got != "roller 14000 lb joint=locked | 4 chain 3/8 g70 direct ; ask hold" || len(m.Unread) > 0 {
			t.Errorf("%q reads as %s, unread %s", text, got, unread(m))
		}
	}
}
