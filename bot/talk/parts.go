package talk

import (
	"slices"
	"strings"
	"time"
)

// Part is one part of a message that was split on the way; the zero value is a
// whole message.
type Part struct {
	Split string // what all parts of the message bear
	N, Of int    // from 1
}

// Parts is a message of which not all has come.
type Parts struct {
	Split string    `json:"split"`
	Since time.Time `json:"since"`
	Texts []string  `json:"texts"` // by part; "" is still to come
	Have  int       `json:"have"`
}

// How long the parts of one message may take, and how many of them and of such
// messages are kept.
const (
	partsTime = 10 * time.Minute
	mostParts = 30
	mostSplit = 5
)

// join lays a part beside those that came before. whole says that text is all of
// the message now. A part given twice changes nothing; where it has other words than
// the one before, it is of another message that bears the same mark. s is not changed.
func (s State) join(p Part, text string, now time.Time) (State, string, bool) {
	if p.N < 1 || p.N > p.Of || p.Of > mostParts {
		return s, text, true // not parts that can be put in order: read as it is
	}
	var kept []Parts
	m := Parts{Split: p.Split, Since: now, Texts: make([]string, p.Of)}
	for _, x := range s.Parts {
		switch {
		case x.Split != p.Split || len(x.Texts) != p.Of || x.late(now):
			kept = append(kept, x)
		case x.Texts[p.N-1] != "" && x.Texts[p.N-1] != text:
			x.Since = time.Time{}
			kept = append(kept, x)
		default:
			m = x
			m.Texts = slices.Clone(x.Texts)
		}
	}
	if m.Texts[p.N-1] == "" && text != "" {
		m.Texts[p.N-1] = text
		m.Have++
	}
	if m.Have == p.Of {
		s.Parts = kept
		return s, strings.Join(m.Texts, ""), true
	}
	if len(kept) >= mostSplit {
		kept = kept[1:]
	}
	s.Parts = append(kept, m)
	s.V = version
	return s, text, false
}

// late says whether the rest of a message is not waited for any more.
func (m *Parts) late(now time.Time) bool { return now.Sub(m.Since) > partsTime }

// giveUp takes out the messages that are late and gives the words that came of
// them. They hold the load in hand open: nobody knows what they told of it.
func (s State) giveUp(now time.Time) (State, string) {
	var kept []Parts
	var lost []string
	for _, m := range s.Parts {
		if m.late(now) {
			lost = append(lost, m.Texts...)
		} else {
			kept = append(kept, m)
		}
	}
	if len(lost) == 0 {
		return s, ""
	}
	s.Parts = kept
	s.Open = s.Open || len(s.load().Articles) > 0
	return s, strings.TrimSpace(strings.Join(lost, " "))
}
