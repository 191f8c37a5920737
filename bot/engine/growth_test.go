package engine

import (
	"strings"
	"testing"

	"halfweight/bot/wire"
	"halfweight/sessions"
)

// Four times the text must not take sixteen times the memory, whatever is sent.
// Time is BenchmarkMessage_growth's.
func TestHandle_memoryGrowsWithTheTextAndNoFaster(t *testing.T) {
	for _, piece := range []string{
		"2x 3/8 g70 direct front left, ",
		"14000 lb roller, ",
		"front left is loose. ",
		"is 3/8 g80 better than 1/2 g70 ",
		"florp blip zzyx ",
		"artciulated rollr chian ",
		"3/8 ", "7 ", "-", ",", "\n", "x", "é", "🚜", "no ", "and ", "of the ", "over ",
	} {
		short, long := allocated(t, piece, 1000), allocated(t, piece, 4000)
		if long > 6*short+1000 {
			t.Errorf("%q over and over: 1,000 characters take %v allocations, 4,000 take %v", piece, short, long)
		}
	}
}

// allocated is how often a message of the piece over and over allocates.
func allocated(t *testing.T, piece string, length int) float64 {
	text := strings.Repeat(piece, length/len([]rune(piece)))
	return testing.AllocsPerRun(1, func() {
		if _, err := New(&sessions.Memory{}).Handle(t.Context(), wire.In{ID: "1", Chat: "a", Text: text, At: noon}); err != nil {
			t.Fatal(err)
		}
	})
}
