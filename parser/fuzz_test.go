package parser

import (
	"testing"
	"time"
)

// FuzzRead reads any text. Whatever it is, the map of the message is whole, it
// is read the same a second time, and in bounded time.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		"",
		" \n\t ",
		"14000 lb roller articulated, 4x 3/8 g70 direct, 1x 3/8 g70 over",
		"twenty six thousand four hundred pound dozer four three eighths grade seventy chains direct",
		"excavater 48,000#, 8x ⅜ garde 70 direct, bucket not tied",
		"12 ton roller 4 chains 3/8 transport on corners artic bar in",
		"9800 skid w the brush cutter on, cutter chained down, 2 3/8 g70 one front one rear direct",
		"16500 backhoe hoe is in the travel lock, front bucket chained, 4x 3/8 g70 direct w/ 9200 binders",
		"1) water truck 12000 lb 4x 5/16 g70 direct\n2) crate 2000 lb 6' long 2x 2in strap over",
		"car 3600, 4x 2in direct, one rear has 1/4 nick each side",
		"front left binder popped off. 4 3/8 g70 direct, 11k roller pinned at the joint",
		"gear 6x 3/8 g70 with 9200 binders",
		"machine 12 is a 14000 lb roller, articulated, steering lock",
		"make the last two direct",
		"3, no wait 4 3/8 g70 direct",
		"is 3/8 g80 better than 1/2 g70?",
		"3/8 link down to .31?",
		"roller -14000 lb \x00\x1b[2J \xff ½½ 👩‍🔧 e\u0301",
		"{\"verdict\":\"covered\"}",
		"13-15k lb 10'1\" 5/16-3/8 1.2.3 1,4000 3/8/2 4⅜",
		"x x4 (4) ( 4 ) 4x4x4 x-4 4*3/8",
		"⅜000 0.⅜ ½½ 4½½",
		"(4) (4) . across the top",
		"0A-¾",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4*MaxLength {
			return
		}
		text = string([]rune(text)) // as the engine hands it over
		start := time.Now()
		m := Read(text)
		if took := time.Since(start); took > time.Second {
			t.Errorf("%d bytes took %v", len(text), took)
		}
		if err := mapped(text, m); err != nil {
			t.Error(err)
		}
		if a, b := reading(m), reading(Read(text)); a != b {
			t.Errorf("read once as %s and once as %s", a, b)
		}
	})
}
