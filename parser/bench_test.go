package parser

import (
	"fmt"
	"strings"
	"testing"
)

const card = "14000 lb roller articulated, 4x 3/8 g70 direct, 1x 3/8 g70 over"

func BenchmarkRead(b *testing.B) {
	for _, c := range []struct{ name, text string }{
		{"card", card},
		{"spoken", "twenty six thousand four hundred pound dozer four three eighths grade seventy chains direct blade chained"},
		{"talk", "16500 backhoe hoe is in the travel lock, front bucket chained, 4x 3/8 g70 direct w/ 9200 binders, front left backed off"},
		{"question", "is 3/8 g80 better than 1/2 g70"},
		{"change", "front left is loose"},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Read(c.text)
			}
		})
	}
}

// BenchmarkRead_steps shows what each step of reading the card takes: cutting
// it into tokens, and finding the phrases in them; the rest is lowering.
func BenchmarkRead_steps(b *testing.B) {
	b.Run("tokens", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			tokenise(card, english())
		}
	})
	b.Run("phrases", func(b *testing.B) {
		b.ReportAllocs()
		r := newReader(card)
		for b.Loop() {
			phrases(r.toks, r.sig)
		}
	})
}

// grown are texts to read over and over: usual ones, and those that a reader
// may choke on.
var grown = map[string]string{
	"clauses": "2x 3/8 g70 direct front left, ", "loads": card + ". ", "unknown": "florpzyx ", "slips": "artciulated ",
	"front": "front ", "bucket and": "bucket and ", "one": "one ", "(4)": "(4) ", "digits": "7", "figures": "14000 ", "commas": ",", "loose": "one is loose ", "or": "3/8 or ", "no": "no ",
}

func BenchmarkRead_growth(b *testing.B) {
	for name, piece := range grown {
		for _, size := range []int{1000, 2000, 4000} {
			text := strings.Repeat(piece, size/len(piece))
			b.Run(fmt.Sprintf("%s/%d", name, size), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					Read(text)
				}
			})
		}
	}
}
