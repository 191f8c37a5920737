package sms

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// 3GPP TS 23.038, 6.2.1: 128 places, one of which is the escape to the extension
// table; 6.2.1.1: ten characters in that.
func TestAlphabet_hasThePlacesOfTheStandard(t *testing.T) {
	if n := utf8.RuneCountInString(basic); n != 127 {
		t.Errorf("%d characters, want 127", n)
	}
	if n := utf8.RuneCountInString(extended); n != 10 {
		t.Errorf("%d characters of two septets, want 10", n)
	}
	for _, r := range basic {
		if strings.Count(basic+extended, string(r)) != 1 {
			t.Errorf("%q stands twice", r)
		}
	}
}

// 3GPP TS 23.040: 160 septets alone, 153 in each of several.
func TestSegments_atTheBoundaries(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
	}{
		{"", 0}, {"a", 1}, {strings.Repeat("a", 160), 1}, {strings.Repeat("a", 161), 2}, {strings.Repeat("a", 306), 2}, {strings.Repeat("a", 307), 3},
		{strings.Repeat("€", 80), 1}, {strings.Repeat("€", 81), 2},
		{strings.Repeat("a", 152) + "€" + strings.Repeat("a", 151), 2}, // the sign does not fit where the first part ends
		{strings.Repeat("a", 152) + "€" + strings.Repeat("a", 152), 3},
		{strings.Repeat("ñ", 160), 1},
	} {
		if got, ok := Segments(c.text); got != c.want || !ok {
			t.Errorf("%d characters of %.5q: %d segments (%v), want %d", utf8.RuneCountInString(c.text), c.text, got, ok, c.want)
		}
	}
	for _, other := range []string{"×", "°", "✓", "’", "ê", "`", "\t"} {
		if _, ok := Segments(other); ok {
			t.Errorf("%q is taken for a character of the alphabet", other)
		}
	}
}

func TestPlain_keepsTheSense(t *testing.T) {
	for from, want := range map[string]string{
		"4× ⅜” g70 — don’t": "4x 3/8\" g70 - don't", "fenêtre": "fenetre", "niño": "niño", "45°": "45 deg", "chaîne, crâne": "chaine, crane",
		"жук": "???", "½ in": "1/2 in", "a\tb": "a b", "ok ✓": "ok ok", "…": "...", "\x00a": "a",
	} {
		if got := Plain(from); got != want {
			t.Errorf("Plain(%q) = %q, want %q", from, got, want)
		}
	}
}

// Whatever comes, what goes out is in the alphabet, and plain again is the same.
func TestPlain_isAlwaysInTheAlphabet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		p := Plain(text)
		if _, ok := Segments(p); !ok {
			t.Fatalf("Plain(%q) = %q is not in the alphabet", text, p)
		}
		if again := Plain(p); again != p {
			t.Fatalf("Plain(%q) = %q, and of that %q", text, p, again)
		}
	})
}

// .ci/segments.mjs holds these counts against three packages of other people's.
func TestSegments_asOthersCount(t *testing.T) {
	path := os.Getenv("HALFWEIGHT_SEGMENTS")
	if path == "" {
		t.Skip("HALFWEIGHT_SEGMENTS names no file to write the samples to: .ci/run sets it")
	}
	type sample struct {
		Text     string `json:"text"`
		Segments int    `json:"segments"`
	}
	var all []sample
	letters := []rune(strings.ReplaceAll(basic, "\f", "") + "€{}[]~^|\\")
	chance := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 80, 152, 153, 154, 159, 160, 161, 200, 305, 306, 307, 459, 460} {
		for range 60 {
			var b strings.Builder
			for range n {
				b.WriteRune(letters[chance.IntN(len(letters))])
			}
			count, _ := Segments(b.String())
			all = append(all, sample{b.String(), count})
			plain := strings.Repeat("a", n)
			count, _ = Segments(plain)
			all = append(all, sample{plain, count})
		}
	}
	text, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
}
