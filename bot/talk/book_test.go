package talk

import (
	"testing"
	"time"

	"halfweight/rules/load"
)

// book is a chat that was told texts, an hour apart.
func book(t *testing.T, texts ...string) (State, Reply) {
	t.Helper()
	var s State
	var r Reply
	for i, text := range texts {
		s, r = Step(s, Event{ID: text + string(rune('a'+i)), Text: text}, noon.Add(time.Duration(i)*time.Hour))
	}
	return s, r
}

func piece(s State, tag string) *Piece {
	for i := range s.Pieces {
		if s.Pieces[i].Tag == tag {
			return &s.Pieces[i]
		}
	}
	return nil
}

// What is out, by what was told of it. That a cut of 3/8 in takes a 2 in strap out
// is the row of rules/tables/cuts.csv; that a link of 3/8 grade 70 is out below
// 0.325 in, the row of stock.csv.
func TestBook_outUntilReplacedOrMeasuredGood(t *testing.T) {
	for _, c := range []struct {
		name, tag string
		texts     []string
		out       bool
	}{
		{"bent", "chain 7", []string{"gear chain 7 is 3/8 g70", "chain 7 is bent"}, true},
		{"not on the list", "chain 7", []string{"chain 7 is bent"}, true},
		{"replaced", "chain 7", []string{"chain 7 is bent", "chain 7 replaced"}, false},
		{"listed again", "chain 7", []string{"chain 7 is bent", "gear chain 7 is 3/8 g70"}, true},
		{"a new load", "chain 7", []string{"chain 7 is bent", "14000 lb roller, 4x 3/8 g70 direct", "new load"}, true},
		{"delivered", "chain 7", []string{"14000 lb roller, chain 7 front left direct", "chain 7 is bent", "delivered"}, true},
		{"undone", "chain 7", []string{"14000 lb roller, chain 7 front left direct", "chain 7 is bent", "undo"}, false},
		{"tightened", "chain 7", []string{"14000 lb roller, chain 7 front left direct", "chain 7 is bent", "chain 7 tight"}, true},
		{"measured good", "strap 2", []string{"gear strap 2 is 2in", "strap 2 is cut", "strap 2 has a 1/16 in cut"}, false},
		{"measured bad", "strap 2", []string{"gear strap 2 is 2in", "strap 2 is cut", "strap 2 has a 1/2 in cut"}, true},
		{"worn", "chain 7", []string{"gear chain 7 is 3/8 g70", "chain 7 link is down to .31"}, true},
		{"worn a little", "chain 7", []string{"gear chain 7 is 3/8 g70", "chain 7 link is down to .39"}, false},
		{"lost", "chain 7", []string{"gear chain 7 is 3/8 g70", "chain 7 is missing"}, true},
		{"found", "chain 7", []string{"gear chain 7 is 3/8 g70", "chain 7 is missing", "chain 7 is back"}, false},
		{"its binder", "chain 7", []string{"gear chain 7 is 3/8 g70", "14000 lb roller, chain 7 with binder 3 front left direct", "binder 3 is cracked"}, false},
		{"the ring", "chain 7", []string{"gear chain 7 is 3/8 g70", "14000 lb roller, chain 7 front left direct", "front left ring is cracked"}, false},
	} {
		s, _ := book(t, c.texts...)
		p := piece(s, c.tag)
		if out := p != nil && !p.Out.IsZero(); out != c.out {
			t.Errorf("%s: out is %v, want %v: %+v", c.name, out, c.out, p)
		}
	}
}

func TestBook_sinceWhenAndWhenItsStampWasRead(t *testing.T) {
	s, _ := book(t, "gear chain 7 is 3/8 g70", "chain 7 reads 6600", "chain 7 is bent", "chain 7 is cracked", "gear")
	p := piece(s, "chain 7")
	want(t, "out since", p.Out, noon.Add(2*time.Hour))
	want(t, "read at", p.Read, noon.Add(time.Hour))
	want(t, "hurts", len(p.Tie.State.Damage), 2)
	s, _ = book(t, "gear chain 7 is 3/8 g70", "chain 7 reads 6600", "chain 7 is bent", "chain 7 replaced")
	want(t, "read after it was replaced", piece(s, "chain 7").Read, time.Time{})
}

func TestBook_loadCannotCountWhatIsOut(t *testing.T) {
	const roller = "14000 lb roller, lock bar in, "
	for _, texts := range [][]string{
		{"chain 7 is bent", roller + "chain 7 3/8 g70 front left direct, 3x 3/8 g70 direct"},
		{"gear chain 7 is 3/8 g70", "chain 7 is missing", roller + "chain 7 front left direct, 3x 3/8 g70 direct"},
		{"binder 3 is cracked", roller + "4x 3/8 g70 direct", "new load", roller + "3x 3/8 g70 direct, 3/8 g70 chain 9 with binder 3 front left direct"},
		{roller + "4x 3/8 g70 direct", "chain 7 is bent"},
		{roller + "4x 3/8 g70 direct", "chain 7 is loose"},
		{roller + "4x 3/8 g70 direct", "chain 7 and chain 8 are loose", "no"},
		{"gear chain 7 is 3/8 g70", roller + "chain 7 front left direct, 3x 3/8 g70 direct", "chain 7 is bent", "chain 7 tight"},
		{roller + "4x 3/8 g70 direct", "front left is loose", "front left is chain 7"},
		{"chain 7 is bent", roller + "4x 3/8 g70 direct", "front left is chain 7"},
		{"chain 7 is bent", roller + "4x 3/8 g70 direct", "chain 7 front left"},
		{"chain 7 is bent", roller + "chain 7 3/8 g70 front left direct, 3x 3/8 g70 direct", "chain 7 front right direct"},
	} {
		if s, r := book(t, texts...); r.Verdict == "covered" || r.LoadVerdict == "covered" {
			t.Errorf("%q is %s: %+v", texts, r.Verdict, s.load())
		}
	}
}

// Told otherwise than listed, the lesser counts and no load is covered on it.
func TestBook_toldOtherwiseThanListedTheLesserCounts(t *testing.T) {
	for _, listed := range []string{"5/16 g70", "1/2 g70"} {
		s, r := book(t, "gear chain 7 is "+listed, "14000 lb roller, lock bar in, chain 7 3/8 g70 front left direct, 3x 3/8 g70 direct")
		l := s.load()
		word := l.Articles[0].Ties[0].SizeWord
		if word != "5/16" && word != "3/8" || word == "3/8" && listed == "5/16 g70" || r.Verdict == "covered" {
			t.Errorf("listed as %s it is taken as %s, and the load is %s", listed, word, r.Verdict)
		}
	}
}

// One chain told twice is one chain.
func TestBook_markedPieceIsOnALoadOnce(t *testing.T) {
	s, _ := book(t, "14000 lb roller, chain 7 3/8 g70 front left direct, 3x 3/8 g70 direct", "chain 7 front left direct", "take off chain 7", "put chain 7 back on", "chain 7 rear right direct")
	l := s.load()
	n := 0
	for _, x := range l.Articles[0].Ties {
		if x.Tag == "chain 7" {
			n++
			want(t, "place", x.Place, load.Place{End: "rear", Side: "right"})
			want(t, "gone", x.State.Gone, "")
		}
	}
	want(t, "pieces", []int{n, len(l.Articles[0].Ties)}, []int{1, 4})
}

func TestPast_isWrittenOnceAndTakenOutByUndo(t *testing.T) {
	const roller = "14000 lb roller, lock bar in, 4x 3/8 g70 direct"
	s, r := book(t, roller, "delivered")
	if len(r.Log) != 1 || r.Log[0].N != 1 || r.Log[0].Past == nil {
		t.Fatalf("the log is told %+v", r.Log)
	}
	past := *r.Log[0].Past
	want(t, "how it stood", []string{past.How, past.Verdict}, []string{"delivered", "covered"})
	want(t, "when", past.At, noon.Add(time.Hour))
	s, r = Step(s, Event{ID: "u", Text: "undo"}, noon)
	if len(r.Log) != 1 || r.Log[0].N != 1 || r.Log[0].Past != nil {
		t.Errorf("undone, the log is told %+v", r.Log)
	}
	s, r = Step(s, Event{ID: "n", Text: "new load"}, noon)
	want(t, "number", r.Log[0].N, uint64(2))
	_, r = Step(s, Event{ID: "d", Text: "delivered"}, noon)
	want(t, "no load to put away", len(r.Log), 0)
	_, r = book(t, roller, "38000 excavator 4x 1/2 g70 direct", "undo", "undo")
	want(t, "nothing left to take out", len(r.Log), 0)
}

func TestPast_editedMessageWritesInPlaceOfWhatItWrote(t *testing.T) {
	s, _ := book(t, "14000 lb roller, lock bar in, 4x 3/8 g70 direct")
	s, r := Step(s, Event{ID: "1", Text: "38000 excavator 4x 1/2 g70 direct"}, noon)
	want(t, "written", r.Log[0].N, uint64(1))
	_, r = Step(s, Event{ID: "1e", Edits: "1", Text: "38000 excavator 6x 1/2 g70 direct"}, noon)
	got := map[uint64]bool{}
	for _, p := range r.Log {
		got[p.N] = p.Past != nil
	}
	want(t, "records", got, map[uint64]bool{1: false, 2: true})
}

func TestPast_oldestGoWhereThereAreTooMany(t *testing.T) {
	s, _ := book(t, "14000 lb roller")
	s.Logged = MostPast
	_, r := Step(s, Event{ID: "n", Text: "new load"}, noon)
	want(t, "records", []any{len(r.Log), r.Log[1].N, r.Log[1].Past == nil}, []any{2, uint64(1), true})
}
