package talk

import (
	"encoding/json"
	"testing"

	"halfweight/parser"
	"halfweight/rules/load"
)

// busy is the state of a chat in the middle of a long day.
func busy(b *testing.B) State {
	var s State
	say := func(acts ...parser.Act) { s, _ = stepMessage(s, Event{ID: "b"}, parser.Message{Acts: acts}, noon) }
	say(roller(14000, clause{4, g70(load.Direct)}, clause{1, g70(load.Over)}))
	for i := range kept {
		say(facts(load.Article{Weight: load.Exact(pounds(14000+i), false)}))
	}
	return s
}

func BenchmarkStep(b *testing.B) {
	first := parser.Message{Acts: []parser.Act{roller(14000, clause{4, g70(load.Direct)}, clause{1, g70(load.Over)})}}
	looseOne := parser.Message{Acts: []parser.Act{loose(there2("front", "left"))}}
	s := busy(b)
	b.Run("first load", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			stepMessage(State{}, Event{ID: "b"}, first, noon)
		}
	})
	b.Run("change after twenty turns", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			stepMessage(s, Event{ID: "b"}, looseOne, noon)
		}
	})
}

func BenchmarkState(b *testing.B) {
	s := busy(b)
	data, err := json.Marshal(s)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(data)), "bytes")
	b.Run("write", func(b *testing.B) {
		for b.Loop() {
			json.Marshal(s)
		}
		b.ReportMetric(float64(len(data)), "bytes")
	})
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			var s State
			json.Unmarshal(data, &s)
		}
	})
}
