package render

import "testing"

func BenchmarkText(b *testing.B) {
	r := modelA()
	b.ReportAllocs()
	for b.Loop() {
		Text(r)
	}
}

func BenchmarkBody(b *testing.B) {
	r := modelA()
	b.ReportAllocs()
	for b.Loop() {
		Body(r)
	}
}

func BenchmarkBody_short(b *testing.B) {
	r := modelC()
	b.ReportAllocs()
	for b.Loop() {
		Body(r)
	}
}
