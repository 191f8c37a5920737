package engine

import (
	"strings"
	"testing"
	"time"

	"halfweight/bot/wire"
	"halfweight/sessions"
)

// Four times the text must not take sixteen times as long, where it takes long
// at all: whatever is sent is answered in about the time of a good message of
// its length.
func TestHandle_timeGrowsWithTheTextAndNoFaster(t *testing.T) {
	for _, piece := range []string{
		"2x 3/8 g70 direct front left, ",
		"14000 lb roller, ",
		"front left is loose. ",
		"is 3/8 g80 better than 1/2 g70 ",
		"florp blip zzyx ",
		"artciulated rollr chian ",
		"3/8 ", "7 ", "-", ",", "\n", "x", "é", "🚜", "no ", "and ", "of the ", "over ",
	} {
		short, long := quickest(t, piece, 1000), quickest(t, piece, 4000)
		t.Logf("%6.2f to %6.2f ms: %q", 1e3*short.Seconds(), 1e3*long.Seconds(), piece)
		if long > 12*short && long > 50*time.Millisecond {
			t.Errorf("%q over and over: 1,000 characters take %v, 4,000 take %v", piece, short, long)
		}
	}
}

// quickest is the least of a few times that a message of the piece over and over
// takes.
func quickest(t *testing.T, piece string, length int) time.Duration {
	text := strings.Repeat(piece, length/len([]rune(piece)))
	least := time.Hour
	for range 6 {
		e := New(&sessions.Memory{})
		start := time.Now()
		if _, err := e.Handle(t.Context(), wire.In{ID: "1", Chat: "a", Text: text, At: noon}); err != nil {
			t.Fatal(err)
		}
		least = min(least, time.Since(start))
	}
	return least
}
