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
// the message now. A part given twice changes nothing; those that waited too long
// are given up. s is not changed.
func (s State) join(p Part, text string, now time.Time) (State, string, bool) {
	if p.N < 1 || p.N > p.Of || p.Of > mostParts {
		return s, text, true // not parts that can be put in order: read as it is
	}
	var kept []Parts
	m := Parts{Split: p.Split, Since: now, Texts: make([]string, p.Of)}
	for _, x := range s.Parts {
		switch {
		case now.Sub(x.Since) > partsTime:
		case x.Split == p.Split && len(x.Texts) == p.Of:
			m = x
			m.Texts = slices.Clone(x.Texts)
		default:
			kept = append(kept, x)
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
