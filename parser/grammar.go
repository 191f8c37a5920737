package parser

import (
	"io"
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar sees classes of tokens only and holds no word of any language. A
// message is a run of small phrases; the last alternative is one token of any
// class that is not plain, so no message fails to parse and one unread phrase
// never spoils the others. What a phrase means, and what it belongs to, is
// settled after it.
//
// A phrase matches at least one token, and a run inside it is bounded or eats
// what it has seen, so that the work grows with the message and no faster.

// phrase is one small phrase; exactly one of its fields is set.
type phrase struct {
	from, to int  // the significant tokens from, up to to
	Words    bool // a run of plain tokens
	Rating   bool `parser:"( @( Rated Rated? Bind? Hedge? Figure | Figure Rated | Fitting (Bind|Rated|Hedge)? (Bind|Rated)? (Bind|Rated)? (Figure|Label) Rated? | (Figure|Label) (Bind Bind?)? Fitting (?! Bind? Rated? Figure) | Label )"`
	Graded   bool `parser:"| @( Fitting Bind? Bind? (Rated Bind? (Grade Number?|Number) | Grade Number?) )"`
	Weight   bool `parser:"| @( Hedge? Weigh (Bind|Hedge|Rated)? (Bind|Hedge)? Figure Hedge? | Hedge Hedge? Figure Hedge? | Figure Hedge? )"`
	Blocks   bool `parser:"| @( Neg? Blocked )"`
	Extent   bool `parser:"| @( Length Long? | Long Bind? Length )"`
	Held     bool `parser:"| @( Neg? Bind? (Part (Break? Bind? Part)* | Lock (Break? Bind? Lock)* | Joint) (Break? (Bind|Hedge)? Bind? Bind? Neg? (State|Lock) (Bind Bind? Joint)? | (Bind|Hedge)? Neg? Slip | Break? Neg Material)* )"`
	Locked   bool `parser:"| @( State Bind? Bind? (Joint|Lock|Part) | Neg Lock | Neg Material? Bind? Bind? (Part|Joint) )"`
	Fixed    bool `parser:"| @( Correct Correct? Bind? (Number|Figure) )"`
	Any      bool `parser:"| @( Figure|Length|Label|Part|Lock|Joint|State|Fitting|Rated|Hedge|Weigh|Long|Blocked|Neg|Correct ) )"`
}

// classes name the token classes of the grammar and the kinds in each. A kind
// in none of them is a Word.
var classes = map[string][]kind{
	"Bind":     {kBe, kOn, kTo, kDet, kIt, kThem, kWith, kOf, kQuery, kAll},
	"Break":    {kSep, kLine, kAnd, kOr},
	"Figure":   {kMass, kBig},
	"Number":   {kNum, kCount},
	"Grade":    {kGrade, kGradeWord},
	"Material": {kMat},
	"Slip":     {kGone, kLoose},
	"Fitting":  {kTens, kHook, kRing},
	"Label":    {kLabel},
	"Rated":    {kRated},
	"Hedge":    {kHedge, kDoubt},
	"Weigh":    {kWeigh},
	"Neg":      {kNeg},
	"Blocked":  {kBlocked},
	"Length":   {kLength},
	"Long":     {kLong, kWide},
	"Part":     {kPart},
	"Lock":     {kLock},
	"Joint":    {kJoint},
	"State":    {kState},
	"Correct":  {kCorrect},
}

const wordType lexer.TokenType = 1

// symbols are the grammar's token types by name; types the type of each kind.
var symbols, types = func() (map[string]lexer.TokenType, [kinds]lexer.TokenType) {
	names := map[string]lexer.TokenType{"EOF": lexer.EOF, "Word": wordType}
	var of [kinds]lexer.TokenType
	for k := range of {
		of[k] = wordType
	}
	for name, ks := range classes {
		names[name] = wordType + lexer.TokenType(ks[0]) + 1
		for _, k := range ks {
			of[k] = names[name]
		}
	}
	return names, of
}()

// tokenLexer hands the grammar tokens that are cut already. Text is never
// lexed through it.
type tokenLexer struct {
	toks []tok
	sig  []int
	next int
}

func (l *tokenLexer) Next() (lexer.Token, error) {
	if l.next >= len(l.sig) {
		return lexer.Token{Type: lexer.EOF, Pos: lexer.Position{Offset: l.next}}, nil
	}
	t := lexer.Token{Type: types[l.toks[l.sig[l.next]].kind], Value: "x", Pos: lexer.Position{Offset: l.next}}
	l.next++
	return t, nil
}

type definition struct{}

func (definition) Symbols() map[string]lexer.TokenType { return symbols }

func (definition) Lex(string, io.Reader) (lexer.Lexer, error) {
	return nil, io.ErrUnexpectedEOF // tokens come from tokenise only
}

var grammar = sync.OnceValue(func() *participle.Parser[phrase] {
	return participle.MustBuild[phrase](participle.Lexer(definition{}), participle.UseLookahead(participle.MaxLookahead))
})

// plain says of each kind whether a run of it is Words wherever a phrase may
// begin. Most of a message is that, so such runs are taken without the grammar.
var plain = func() (is [kinds]bool) {
	for k, t := range types {
		switch t {
		case wordType, symbols["Bind"], symbols["Break"], symbols["Number"], symbols["Grade"], symbols["Material"], symbols["Slip"]:
			is[k] = true
		}
	}
	return is
}()

// alone is the phrase that the grammar makes of one token of a kind by itself.
var alone = sync.OnceValue(func() (of [kinds]phrase) {
	for k := range of {
		if plain[k] {
			continue
		}
		if peek, err := lexer.Upgrade(&tokenLexer{toks: []tok{{kind: kind(k)}}, sig: []int{0}}); err == nil {
			if p, err := grammar().ParseFromLexer(peek); err == nil {
				of[k] = *p
			}
		}
	}
	return of
})

// phrases parses the significant tokens: those that are neither filler nor
// decoration. No phrase but Words goes over a token of the class Word, so the
// grammar is handed what stands before the next one, and nothing where that is
// one token. It returns nil only if the grammar lacks a token class.
func phrases(toks []tok, sig []int) []phrase {
	typeAt := func(i int) lexer.TokenType { return types[toks[sig[i]].kind] }
	list := make([]phrase, 0, 8)
	var peek *lexer.PeekingLexer // over the tokens start..end
	start, end := 0, 0
	for from, to := 0, 0; from < len(sig); from = to {
		p := phrase{Words: true}
		for to < len(sig) && plain[toks[sig[to]].kind] {
			to++
		}
		switch {
		case to > from:
		case from+1 == len(sig) || typeAt(from+1) == wordType:
			p, to = alone()[toks[sig[from]].kind], from+1
		default:
			if from >= end {
				start, end = from, from+1
				for end < len(sig) && typeAt(end) != wordType {
					end++
				}
				peek, _ = lexer.Upgrade(&tokenLexer{toks: toks, sig: sig[start:end]}) // whose Next never fails
			}
			for peek.Cursor() < from-start {
				peek.Next()
			}
			q, err := grammar().ParseFromLexer(peek, participle.AllowTrailing(true))
			if err != nil {
				return nil
			}
			p, to = *q, start+peek.Cursor()
		}
		p.from, p.to = from, to
		list = append(list, p)
	}
	return list
}
