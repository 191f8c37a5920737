package parser

import (
	"io"
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar sees token kinds only and holds no word of any language. A
// message is a run of small phrases; the last alternative is one token of any
// kind, so no message fails to parse and one unread phrase never spoils the
// others. What a phrase means, and what it belongs to, is settled after it.
//
// A phrase matches at least one token, and a run inside it is bounded or eats
// what it has seen, so that the work grows with the message and no faster.
type sentence struct {
	Phrases []*phrase `parser:"@@*"`
}

// phrase is one small phrase; exactly one of its fields is set.
type phrase struct {
	Pos    lexer.Position
	Words  bool `parser:"( @( (Num|Count|Times|Size|Gradefig|Miles|Badfig|Kind|Bends|Still|Wheels|Gone|Loose|Tight|Tighten|Replace|Sound|Damage|Noguard|Guard|Route|End|Nose|Side|Corner|Spread|Spreadone|Mat|Link|Nomark|Notag|Unsure|Bare|With|And|Or|Of|From|To|On|Than|Each|All|Rest|Last|Them|It|Extra|Be|Det|Query|Cmd|Road|Haul|Tail|Yes|Notens|Taken|Sep|Line|Stop|Ask|Other|Unit|Grade|Plain)+ )"`
	Rating bool `parser:"| @( Rated (Be|On|To|Hedge)? Hedge? (Mass|Big) | (Mass|Big) Rated | (Tens|Hook|Ring) ((Be|Rated|On|To|With|Det|Sep|Hedge|It|Them) (Be|Rated|On|To|Det)? (Be|Rated|To)?)? ((Mass|Big)|Label) Rated? | ((Mass|Big)|Label) (Tens|Hook|Ring) | Label )"`
	Graded bool `parser:"| @( (Tens|Hook|Ring) (Be|Rated|On|To|Det|Them|All)? (Rated|Be)? (Gradefig|Grade? Num) )"`
	Weight bool `parser:"| @( Hedge? Weigh (Be|Hedge|Det|It|On|Rated)? (Be|Hedge|On)? (Mass|Big) Hedge? | Hedge? Hedge? Mass Hedge? | Hedge Hedge? Big Hedge? | Big Hedge )"`
	Blocks bool `parser:"| @( Neg? Blocked )"`
	Extent bool `parser:"| @( Length (Long|Wide)? | (Long|Wide) Be? Length )"`
	Held   bool `parser:"| @( Neg? Det? (Part ((And|Or|Sep)? Det? Part)* | Lock ((And|Or|Sep)? Det? Lock)* | Joint) ((And|Sep|Line)? (Be|It|Hedge|On|Det|Them|To|Query)? (Be|Det|On|It)? Det? Neg? (State|Lock) (On Det? (Joint|It))? | (Be|It|Hedge)? Neg? (Gone|Loose) | And? Neg Mat)* )"`
	Locked bool `parser:"| @( State (On|To|With|Of)? Det? (Joint|Lock) | Neg Lock )"`
	Fixed  bool `parser:"| @( Correct Correct? (It|To|Be)? (Num|Big|Mass|Count) )"`
	Any    bool `parser:"| @( Big|Mass|Length|Label|Part|Lock|Joint|State|Tens|Hook|Ring|Rated|Hedge|Weigh|Long|Wide|Blocked|Neg|Correct ) )"`
	EndPos lexer.Position
}

// symbols are the grammar's names of the token kinds.
var symbols = func() map[string]lexer.TokenType {
	m := map[string]lexer.TokenType{"EOF": lexer.EOF}
	for name, k := range kindNames {
		m[string(name[0]-'a'+'A')+name[1:]] = symbolOf(k)
	}
	return m
}()

// symbolOf keeps clear of participle's own negative types.
func symbolOf(k kind) lexer.TokenType { return lexer.TokenType(k) + 1 }

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
	t := lexer.Token{Type: symbolOf(l.toks[l.sig[l.next]].kind), Value: "x", Pos: lexer.Position{Offset: l.next}}
	l.next++
	return t, nil
}

type definition struct{}

func (definition) Symbols() map[string]lexer.TokenType { return symbols }

func (definition) Lex(string, io.Reader) (lexer.Lexer, error) {
	return nil, io.ErrUnexpectedEOF // tokens come from tokenise only
}

var grammar = sync.OnceValue(func() *participle.Parser[sentence] {
	return participle.MustBuild[sentence](participle.Lexer(definition{}), participle.UseLookahead(participle.MaxLookahead))
})

// phrases parses the significant tokens: those that are neither filler nor
// decoration. It returns nil only if the grammar lacks a token kind.
func phrases(toks []tok, sig []int) []*phrase {
	peek, err := lexer.Upgrade(&tokenLexer{toks: toks, sig: sig})
	if err != nil {
		return nil
	}
	s, err := grammar().ParseFromLexer(peek)
	if err != nil {
		return nil
	}
	return s.Phrases
}
