package sms

import (
	"slices"
	"strings"
	"unicode"
)

// keywords are the carriers' common words, each by itself a message. Those that
// stop are named in 47 CFR 64.1200(a)(10), which asks that any wording a
// reasonable person takes so be obeyed (89 FR 15756); CTIA's Messaging Principles
// name them too, and "please opt me out". The rest, and the French ones of Canada's
// carriers, are from memory.
var keywords = map[string]string{
	"stop": "stop", "quit": "stop", "end": "stop", "revoke": "stop", "opt out": "stop", "cancel": "stop", "unsubscribe": "stop",
	"stopall": "stop", "stop all": "stop", "optout": "stop", "opt me out": "stop", "unsubscribe me": "stop", "remove me": "stop", "arret": "stop",
	"stop texting": "stop", "stop texting me": "stop", "stop texts": "stop", "stop messages": "stop", "stop messaging me": "stop",
	"dont text me": "stop", "do not text me": "stop", "no more texts": "stop", "no more messages": "stop",
	"start": "start", "unstop": "start",
	"help": "help", "info": "help", "aide": "help",
}

// courtesies say nothing beside a keyword.
var courtesies = []string{"please", "pls", "plz", "thanks", "thx"}

// keyword is which of them a message is; "" for none. Signs and case say nothing,
// nor does a word said twice over.
func keyword(text string) string {
	if len(text) > 100 {
		return ""
	}
	text = strings.NewReplacer("'", "", "’", "", "ê", "e", "Ê", "e").Replace(text)
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	words = slices.DeleteFunc(words, func(w string) bool { return slices.Contains(courtesies, w) })
	return keywords[strings.Join(slices.Compact(words), " ")]
}
