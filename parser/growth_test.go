package parser

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"
)

// A text four times as long must not take sixteen times as long, where it takes
// long at all. Reading alone: the whole path has a check of its own.
func TestRead_timeGrowsWithTheTextAndNoFaster(t *testing.T) {
	more := []string{"-", "\n", ".", "?", "3/8 ", "5/16-3/8 ", "13-15k ", "4x ", "x4 ", "and ", "to ", "over ", "the ", "each ", "bucket ", "bucket locked ", "lock bar ", "roller ", "a ", "with ", "from the front to the ",
		"binders 9200 ", "9200 ", "worn ", "cut 1/4 ", "it ", "them ", "no wait 4 ", "about ", "weighs ", "w/", "'", "(", "x", "é", "🚜", "٣", "\u0301", "½", "…", "one hundred ", "thousand ", "three eighths ", "half ", "point five ", "machine 12 ", "what if ", "is ", "front left is loose, ", "4 direct, "}
	for _, piece := range slices.Concat(slices.Sorted(maps.Values(grown)), more) {
		short, long := quickest(piece, 1000), quickest(piece, 4000)
		t.Logf("%6.2f to %6.2f ms: %q", 1e3*short.Seconds(), 1e3*long.Seconds(), piece)
		if long > 12*short && long > 30*time.Millisecond {
			t.Errorf("%q over and over: 1,000 characters take %v, 4,000 take %v", piece, short, long)
		}
	}
}

// quickest is the least of a few times that it takes to read the piece over and
// over.
func quickest(piece string, length int) time.Duration {
	text := strings.Repeat(piece, length/len([]rune(piece)))
	least := time.Hour
	for range 6 {
		start := time.Now()
		Read(text)
		least = min(least, time.Since(start))
	}
	return least
}
