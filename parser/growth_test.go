package parser

import (
	"maps"
	"slices"
	"strings"
	"testing"
)

// A text four times as long must not take sixteen times the memory, whatever is
// said over and over. Time is BenchmarkRead_growth's.
func TestRead_memoryGrowsWithTheTextAndNoFaster(t *testing.T) {
	more := []string{"-", "\n", ".", "?", "3/8 ", "5/16-3/8 ", "13-15k ", "4x ", "x4 ", "and ", "to ", "over ", "the ", "each ", "bucket ", "bucket locked ", "lock bar ", "roller ", "a ", "with ", "from the front to the ",
		"binders 9200 ", "9200 ", "worn ", "cut 1/4 ", "it ", "them ", "no wait 4 ", "about ", "weighs ", "w/", "'", "(", "x", "é", "🚜", "٣", "\u0301", "½", "…", "one hundred ", "thousand ", "three eighths ", "half ", "point five ", "machine 12 ", "what if ", "is ", "front left is loose, ", "4 direct, "}
	for _, piece := range slices.Concat(slices.Sorted(maps.Values(grown)), more) {
		short, long := allocated(piece, 1000), allocated(piece, 4000)
		if long > 6*short+1000 {
			t.Errorf("%q over and over: 1,000 characters take %v allocations, 4,000 take %v", piece, short, long)
		}
	}
}

// allocated is how often reading the piece over and over allocates.
func allocated(piece string, length int) float64 {
	text := strings.Repeat(piece, length/len([]rune(piece)))
	return testing.AllocsPerRun(1, func() { Read(text) })
}
