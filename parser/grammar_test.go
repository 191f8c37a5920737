package parser

import (
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write testdata/parser/grammar.ebnf anew")

// kindsOfThePhrases are the kinds that the grammar sees: fillers and decoration
// are left out before it, and "number" is the mark of a row of words.csv that
// is read as a figure.
func kindsOfThePhrases() []kind {
	var out []kind
	for _, k := range kindNames {
		if k != kFiller && k != kDecor && k != kNumber {
			out = append(out, k)
		}
	}
	slices.Sort(out)
	return out
}

// parsed says where the phrases of a run of kinds begin, and whether each holds
// at least one token and none is left over.
func parsed(of ...kind) (starts []int, ok bool) {
	toks, sig := make([]tok, len(of)), make([]int, len(of))
	for i, k := range of {
		toks[i].kind, sig[i] = k, i
	}
	next := 0
	for _, p := range phrases(toks, sig) {
		if p.from != next || p.to <= p.from {
			return starts, false
		}
		starts, next = append(starts, next), p.to
	}
	return starts, next == len(of)
}

func TestGrammar_everyKindAloneIsAPhrase(t *testing.T) {
	for _, k := range kindsOfThePhrases() {
		if starts, ok := parsed(k); !ok || len(starts) != 1 {
			t.Errorf("a token of the kind %s is no phrase: the catch-all lacks its class", kindName[k])
		}
	}
}

func TestGrammar_everyTwoKindsParse(t *testing.T) {
	all := kindsOfThePhrases()
	for _, a := range all {
		for _, b := range all {
			if _, ok := parsed(a, b); !ok {
				t.Errorf("%s %s does not parse", kindName[a], kindName[b])
			}
		}
	}
}

func TestGrammar_everyRunParsesAndNoPhraseIsEmpty(t *testing.T) {
	all := kindsOfThePhrases()
	rapid.Check(t, func(t *rapid.T) {
		of := rapid.SliceOfN(rapid.SampledFrom(all), 0, 40).Draw(t, "kinds")
		if starts, ok := parsed(of...); !ok {
			names := make([]string, len(of))
			for i, k := range of {
				names[i] = kindName[k]
			}
			t.Fatalf("%v: phrases begin at %v", names, starts)
		}
	})
}

func TestGrammar_noKindIsOfTwoClasses(t *testing.T) {
	class := map[kind]string{}
	for name, of := range classes {
		for _, k := range of {
			if other, ok := class[k]; ok {
				t.Errorf("%s is a %s and a %s", kindName[k], name, other)
			}
			class[k] = name
		}
	}
}

// phrases cuts at words before it asks the grammar.
func TestGrammar_noPhraseGoesOverAWord(t *testing.T) {
	if strings.Contains(grammar().String(), "<word>") {
		t.Error("a phrase names the class Word: it would be cut off before it")
	}
}

func TestGrammar_everyKindThatIsNotPlainHasAPhraseAlone(t *testing.T) {
	for _, k := range kindsOfThePhrases() {
		if !plain[k] && alone()[k] == (phrase{}) {
			t.Errorf("the grammar makes nothing of a %s alone", kindName[k])
		}
	}
}

func TestKinds_allHaveAName(t *testing.T) {
	for k := kNone + 1; k < kinds; k++ {
		if kindName[k] == "" {
			t.Errorf("kind %d has none", k)
		}
	}
}

func TestGrammar_fileIsTheGrammar(t *testing.T) {
	const file = "../testdata/parser/grammar.ebnf"
	now := onePhraseALine(grammar().String())
	if *update {
		if err := os.WriteFile(file, []byte(now), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(kept) != now {
		t.Errorf("%s is stale: go test ./parser -run Grammar -update\n got %s\nwant %s", file, kept, now)
	}
}

// onePhraseALine breaks a grammar at the alternatives of its phrase.
func onePhraseALine(ebnf string) string {
	var b strings.Builder
	depth := 0
	for _, r := range ebnf {
		switch r {
		case '(':
			depth++
		case ')':
			depth--
		case '|':
			if depth == 1 {
				b.WriteString("\n ")
			}
		}
		b.WriteRune(r)
	}
	return b.String() + "\n"
}
