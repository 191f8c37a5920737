package render

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"halfweight/bot/talk"
)

// heldShape is the example of the data contract, as it was published.
const heldShape = `{"forward_g":0.45,"rearward_g":0.45,"left_g":0.5,"right_g":0.5,"friction":0.3,"angles":"worst of the range","tips_first":null}`

// texts runs messages through talk, one after the other, and gives the last reply.
func texts(messages ...string) talk.Reply {
	var s talk.State
	var r talk.Reply
	for i, m := range messages {
		s, r = talk.Step(s, talk.Event{ID: string(rune('a' + i)), Text: m}, time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC))
	}
	return r
}

const rollerText = "14000 lb roller, lock bar in, 4x 3/8 g70 direct, 1x 3/8 g70 over"

func TestData_ofHoldStandsAsInTheContract(t *testing.T) {
	var whole struct{ Hold json.RawMessage }
	if err := json.Unmarshal(Data(texts(rollerText, "hold rubber on wet steel")), &whole); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(fields(t, []byte(heldShape)), fields(t, whole.Hold)); diff != "" {
		t.Error(diff)
	}
	var h held
	if err := json.Unmarshal(whole.Hold, &h); err != nil {
		t.Fatal(err)
	}
	if h.Friction != 0.3 || h.Angles != "worst of the range" || h.Tips != nil {
		t.Errorf("%+v", h)
	}
	for _, g := range []float64{h.Forward, h.Rearward, h.Left, h.Right} {
		if n := g * 20; math.Abs(n-math.Round(n)) > 1e-9 {
			t.Errorf("%v is not of 0.05", g)
		}
	}
	if data := Data(texts(rollerText)); strings.Contains(string(data), `"hold"`) {
		t.Errorf("a count with mechanics: %s", data)
	}
	var tall struct{ Hold held }
	if err := json.Unmarshal(Data(texts(rollerText, "hold cg 9 ft, track 6 ft wide")), &tall); err != nil {
		t.Fatal(err)
	}
	if tall.Hold.Tips == nil || strings.Join(*tall.Hold.Tips, " ") != "left right" {
		t.Errorf("a tall load tips first %v", tall.Hold.Tips)
	}
}

func TestText_ofHoldPrintsFrictionAnglesAndTheSection(t *testing.T) {
	for _, ask := range []string{"hold", "hold rubber on wet steel", "hold chains at 45, 30 out", "hold cg 5 ft, track 8 ft wide", "hold plastic on glass", "hold chains at 450"} {
		text := strings.ToLower(Text(texts(rollerText, ask)))
		for _, word := range []string{"friction 0.", "angles ", "49 cfr 393.102(a)(2)", "the count decides", "not a go-ahead", "tipping", "0.435", "of 0.5", "0.25"} {
			if !strings.Contains(text, word) {
				t.Errorf("%q does not say %q:\n%s", ask, word, text)
			}
		}
	}
}

// Whatever is asked, in whatever order, the reply is of short lines, claims
// nothing, and has the weakest direction first.
func TestText_ofHoldKeepsToItsBudget(t *testing.T) {
	fewer := []string{"fewer will", "fewer chains", "can come off", "take one off", "enough", "393.102 is met", "passes"}
	rapid.Check(t, func(t *rapid.T) {
		messages := []string{rapid.SampledFrom([]string{
			rollerText, "38000 excavator 4x 1/2 g70 direct, bucket down", "20000 lb crate, 12 ft long, 4x 4in strap over",
			"pickup 6000 lb, 2x 2in strap direct at the front, 1 at the rear", "9000 skid steer, 4x 5/16 g70, front left is loose",
			"roller 14 tons, 2x 3/8 g70 direct at the front left, 2x 3/8 g70 direct at the rear right",
		}).Draw(t, "load")}
		for range rapid.IntRange(1, 3).Draw(t, "asks") {
			messages = append(messages, "hold "+strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{
				"rubber on wet steel", "steel tracks", "on ice", "mu 0.55", "mu 0.9", "chains at 45, 30 out", "chains at 15", "straps at 60", "at 450",
				"cg 5 ft", "track 8 ft wide", "12 ft long", "plastic", "cg 500 ft", "0.8 g",
			}), 0, 5).Draw(t, "tells"), ", "))
		}
		if rapid.Bool().Draw(t, "why") {
			messages = append(messages, "why")
		}
		r := texts(messages...)
		brief, rest := Brief(r, func(s string) bool { return utf8.RuneCountInString(s) <= 306 })
		if utf8.RuneCountInString(brief) > 306 || rest == "" && brief != oneLine(Text(r)) {
			t.Fatalf("%q in brief, %d characters: %s", messages, utf8.RuneCountInString(brief), brief)
		}
		if len(withoutHold(r.Says)) < len(r.Says) {
			for _, word := range []string{"Friction 0.", "0.435", "393.102(a)(2)", "Not a go-ahead"} {
				if !strings.Contains(brief, word) {
					t.Fatalf("%q in brief does not say %q: %s", messages, word, brief)
				}
			}
		}
		text := Text(r)
		if n := strings.Count(text, "\n") + 1; n > 24 {
			t.Fatalf("%q: %d lines\n%s", messages, n, text)
		}
		for _, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > width {
				t.Fatalf("%q: a line of %d characters: %s", messages, utf8.RuneCountInString(line), line)
			}
		}
		if hit := never.FindString(text); hit != "" {
			t.Fatalf("%q says %q", messages, hit)
		}
		for _, f := range fewer {
			if strings.Contains(strings.ToLower(text), f) {
				t.Fatalf("%q says %q", messages, f)
			}
		}
		for _, s := range r.Says {
			h, ok := s.(talk.Hold)
			if !ok {
				continue
			}
			for i := 1; i < len(h.Order); i++ {
				if h.Ways[h.Order[i]].G < h.Ways[h.Order[i-1]].G {
					t.Fatalf("%q: %v in the order %v", messages, h.Ways, h.Order)
				}
			}
		}
	})
}

func BenchmarkHold(b *testing.B) {
	for name, ask := range map[string]string{
		"closed form": "hold rubber on wet steel",
		"programs":    "hold chains at 45, 30 out, cg 5 ft, track 8 ft wide, 14 ft long",
	} {
		load := "14000 lb roller, lock bar in, 2x 3/8 g70 direct at the front left, 2x 3/8 g70 direct at the rear right"
		b.Run(name, func(b *testing.B) {
			s, _ := talk.Step(talk.State{}, talk.Event{ID: "a", Text: load}, time.Time{})
			for b.Loop() {
				_, r := talk.Step(s, talk.Event{ID: "b", Text: ask}, time.Time{})
				Body(r)
			}
		})
	}
}
