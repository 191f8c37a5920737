package talk

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"halfweight/parser"
	"halfweight/rules"
	"halfweight/rules/load"
)

// Record is all that is kept of a chat, to be taken away and read back. Masses are
// micrograms and lengths nanometres, as everywhere in the program, so that what is
// read back is what was told.
type Record struct {
	Halfweight int       `json:"halfweight"` // form of the record; what tells it from other JSON
	At         time.Time `json:"at"`
	Units      string    `json:"units"`
	Rules      string    `json:"rules"` // name of the set in force; "" for the federal one
	// House are the crew's own rules. Where there is no list of them, not even an
	// empty one, neither they nor Rules are read back: those of the chat stay.
	House    []rules.House `json:"house"`
	Gear     []GearRow     `json:"gear"`
	Pieces   []Piece       `json:"pieces"`
	Ring     load.Mass     `json:"ring"`
	Machines []Machine     `json:"machines"`
	Load     *load.Load    `json:"load"` // in hand; it is not read back
	Past     []Past        `json:"past"`
}

// recordVersion is the form of Record. Fields are only added.
const recordVersion = 1

// What a record may hold at most, so that one made by hand can do no more than
// messages can.
const (
	mostRecord = 1 << 20                // bytes
	mostPieces = 200                    // of one kind
	mostWords  = 80                     // code points of one word
	mostMass   = 4_000_000 * load.Pound // the upper end of what a loosely told weight may be
)

// Export answers with the record, as JSON on one line.
type Export struct{ JSON []byte }

// Offer says what a record holds that would be read back.
type Offer struct {
	At                            time.Time // when it was written
	Now                           time.Time
	Gear, Pieces, Machines, Loads int
	Ring                          load.Mass
	Rules                         string // name of the set; "" for the federal one
	NoRules                       bool   // it has none, not even the law's: the chat's stay
	House                         int    // rules of the crew's own
	Fewer                         bool   // less would be asked of a load than now: another set, or a house rule that goes
}

// export answers with all that is kept of the chat. The past loads are asked for
// first.
func (t *turn) export() {
	t.answered = true
	t.r.Recall = true
	r := Record{
		Halfweight: recordVersion, At: t.now, Units: t.s.units(), Rules: t.s.Rules, House: notNil(t.s.House), Gear: notNil(t.s.Gear), Pieces: notNil(slices.Clone(t.s.Pieces)),
		Ring: t.s.Ring, Machines: notNil(t.s.Machines), Past: notNil(t.past),
	}
	for i := range r.Pieces {
		r.Pieces[i].ID, r.Pieces[i].Of = 0, 0 // of this chat alone
	}
	if len(t.load.Articles) > 0 {
		r.Load = &t.load
	}
	data, err := json.Marshal(r)
	if err != nil {
		t.cannot("fault")
		return
	}
	t.say(Export{data})
}

// notNil is a list that JSON writes as a list also where it is empty.
func notNil[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// IsRecord says whether a text is meant as a record, not as a message: it is then
// read however long it is.
func IsRecord(text string) bool {
	text = strings.TrimSpace(text)
	return strings.HasPrefix(text, `{`) && (json.Valid([]byte(text)) || strings.HasPrefix(text, `{"halfweight":`))
}

// readRecord reads a record; why says that it cannot be read back.
func readRecord(text string) (r Record, why string) {
	var head struct{ Halfweight *int }
	if len(text) > mostRecord {
		return r, "record too long"
	}
	if err := json.Unmarshal([]byte(text), &head); err != nil {
		return r, "record broken"
	}
	if head.Halfweight == nil {
		return r, "record foreign"
	}
	if *head.Halfweight > recordVersion {
		return r, "record later"
	}
	d := json.NewDecoder(bytes.NewReader([]byte(text)))
	d.DisallowUnknownFields()
	if d.Decode(&r) != nil || !sane(text) || !r.sound() {
		return r, "record broken"
	}
	return r, r.lawful()
}

// lawful says why the rules of a record cannot be put in force; "" where they can.
func (r *Record) lawful() (why string) {
	set := rules.Named(r.Rules)
	if r.Rules != "" && (set.Name != r.Rules || r.Rules == rules.Federal.Name) {
		return "record rules"
	}
	kinds := map[string]bool{}
	for _, h := range r.House {
		switch err := set.Tightens(h); {
		case errors.Is(err, rules.ErrLoosens):
			return "record loosens"
		case err != nil || kinds[h.Kind]:
			return "record rules"
		}
		kinds[h.Kind] = true
	}
	return ""
}

// asksFewer says whether the rules of a record ask less in some way than those in
// force.
func (r *Record) asksFewer(s *State) bool {
	if r.House == nil {
		return false
	}
	return r.Rules != s.Rules || slices.ContainsFunc(s.House, func(now rules.House) bool {
		return !slices.ContainsFunc(r.House, func(h rules.House) bool {
			return h.Kind == now.Kind && h.Percent >= now.Percent && h.Count >= now.Count && h.Mass >= now.Mass
		})
	})
}

// sane says whether every word and figure of a record is one that a message could
// have told.
func sane(text string) bool {
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	for {
		token, err := d.Token()
		if err != nil {
			return true // the end: it was decoded before
		}
		switch v := token.(type) {
		case string:
			if utf8.RuneCountInString(v) > mostWords || strings.ContainsFunc(v, unicode.IsControl) {
				return false
			}
		case json.Number:
			if n, err := v.Int64(); err != nil || n < 0 || n > int64(mostMass) {
				return false
			}
		}
	}
}

// sound says whether what the record holds hangs together.
func (r *Record) sound() bool {
	if r.Units != "lb" && r.Units != "kg" || len(r.Past) > MostPast {
		return false
	}
	for i := range r.Gear {
		if g := &r.Gear[i]; g.Count < 1 || g.Count > mostPieces || !soundTie(&g.Tie) {
			return false
		}
	}
	tags := map[string]bool{}
	for i := range r.Pieces {
		p := &r.Pieces[i]
		if !soundTie(&p.Tie) || p.Tag != "" && tags[p.Tag] {
			return false
		}
		tags[p.Tag] = true
	}
	names := map[string]bool{}
	for i := range r.Machines {
		m := &r.Machines[i]
		if m.Name == "" || names[m.Name] || len(m.Article.Ties) > 0 || !soundArticle(&m.Article) {
			return false
		}
		names[m.Name] = true
	}
	for i := range r.Past {
		p := &r.Past[i]
		if !slices.Contains([]string{"delivered", "new load", "replaced"}, p.How) || !slices.Contains([]string{"covered", "fix", "short", "unsettled"}, p.Verdict) {
			return false
		}
		for j := range p.Load.Articles {
			if !soundArticle(&p.Load.Articles[j]) {
				return false
			}
		}
	}
	return true
}

func soundArticle(a *load.Article) bool {
	w := a.Weight
	if w.Low > w.Told || w.Told > w.High {
		return false
	}
	for i := range a.Ties {
		if !soundTie(&a.Ties[i]) {
			return false
		}
	}
	return true
}

func soundTie(x *load.TieDown) bool {
	materials := []load.Material{"", load.Chain, load.Webbing, load.WireRope, load.Cordage, load.SteelStrap}
	routes := []load.Route{"", load.Direct, load.SameSide, load.Over, load.Lengthwise}
	return slices.Contains(materials, x.Material) && slices.Contains(routes, x.Route) && x.Grade.Reading <= load.Alloy &&
		(x.Grade.Reading == load.Read) == (x.Grade.Value != "") && x.Tensioner.Has <= load.No && x.State.Tight <= load.No && x.State.Sound <= load.No
}

// offer asks for the word before a record is read back.
func (t *turn) offer(text, event string) {
	r, why := readRecord(text)
	if why != "" {
		t.r.Verdict = verdictUnread
		t.r.Unread = []parser.Span{{Text: firstOf(strings.TrimSpace(text), quoted)}}
		t.say(Cannot{Why: why})
		return
	}
	r.Load = nil
	t.confirm(Confirm{Do: "restore", Event: event, Record: &r})
	t.r.Verdict = verdictAnswer
	t.say(Offer{At: r.At, Now: t.now, Gear: len(r.Gear), Pieces: len(r.Pieces), Machines: len(r.Machines), Ring: r.Ring, Loads: len(r.Past),
		Rules: r.Rules, House: len(r.House), NoRules: r.House == nil, Fewer: r.asksFewer(&t.s)})
}

// restore puts a record in the place of the chat's gear, machines, trailer, units,
// rules and past loads: all of it in one change. The load in hand stays.
func (t *turn) restore(r *Record) {
	t.did = true
	s := &t.s
	if s.Units = ""; r.Units == "kg" {
		s.Units = "kg"
	}
	if r.House != nil {
		s.Rules, s.House = r.Rules, slices.Clone(r.House)
		t.inForce()
	}
	s.Gear, s.Ring, s.Machines = r.Gear, r.Ring, r.Machines
	s.Pieces = slices.Clone(r.Pieces)
	for i := range s.Pieces {
		s.Pieces[i].ID, s.Pieces[i].Of = t.newID(), 0
	}
	for n := s.Logged; n > 0 && n+MostPast > s.Logged; n-- {
		t.r.Log = append(t.r.Log, PastRecord{N: n})
	}
	for i := range r.Past {
		s.Logged++
		t.r.Log = append(t.r.Log, PastRecord{s.Logged, &r.Past[i]})
	}
	// What was noted of gear in the turns kept is of the gear before.
	s.Turns = slices.Clone(s.Turns)
	for i := range s.Turns {
		s.Turns[i].Pieces, s.Turns[i].Past = nil, 0
	}
	t.r.Units = s.units()
	t.say(Done{What: "restored"})
}

func (Export) say() {}
func (Offer) say()  {}
