package talk

import "encoding/json"

// Encode is the state as JSON, as json.Marshal writes it but for the order of the
// fields. A turn is written out once: it does not change any more, and the states
// that follow hold it too. It is not to be called for two states of one chat at
// once.
func (s State) Encode() ([]byte, error) {
	turns := s.Turns
	s.Turns = nil
	text, err := json.Marshal(s)
	if err != nil || len(turns) == 0 {
		return text, err
	}
	room := 0
	for i := range turns {
		if turns[i].text == nil {
			if turns[i].text, err = json.Marshal(turns[i]); err != nil {
				return nil, err
			}
		}
		room += 1 + len(turns[i].text)
	}
	const opens, closes = `,"turns":[`, `]}`
	all := make([]byte, 0, len(text)+len(opens)+room+len(closes))
	all = append(append(all, text[:len(text)-1]...), opens...) // there is a field before: the version
	for i := range turns {
		if i > 0 {
			all = append(all, ',')
		}
		all = append(all, turns[i].text...)
	}
	return append(all, closes...), nil
}
