package parser

import (
	"unicode"
	"unicode/utf8"

	"halfweight/rules/load"
)

// shape is what a piece of text looks like before any word is looked up.
type shape uint8

const (
	shapeWord   shape = iota // letters
	shapeNumber              // 14, 14,000, .375
	shapeRatio               // 3/8
	shapeBreak               // comma, semicolon, colon, bar, slash between words, bullet
	shapeLine                // new line
	shapeStop                // end of a sentence
	shapeQuery               // question mark
	shapeSign                // one of the signs that mean something: # " ' ( ) + & @ ~ - = %
	shapeDecor               // emoji, quotes, brackets: says nothing
	shapeAlien               // anything else
)

// piece is one piece of the text, with where it stands in the text as sent.
type piece struct {
	shape shape
	sign  rune
	glued bool   // no space before it
	word  string // lower case, without apostrophes and hyphens
	num   load.Micro
	den   load.Micro // shapeRatio, dated: the denominator
	upper bool       // shapeWord: sent with a capital
	odd   bool       // shapeNumber: cannot be taken as it stands (too long, "14.000")
	point bool       // shapeNumber: written with a decimal point
	dated bool       // shapeNumber: a day, 3/8/2026; num and den are its first two figures
	at    int        // code points before it
	end   int        // code point after its last
}

// scanner walks the text once. Every code point but white space and marks that
// print nothing ends in exactly one piece.
type scanner struct {
	text   []rune // as read: folded to plain forms
	at     []int  // place of each in the text as sent
	out    []piece
	last   int  // code points in all
	vulgar bool // the code point before was a fraction of its own
}

// scan cuts text into pieces. It cannot fail.
func scan(text string) []piece {
	n := utf8.RuneCountInString(text)
	s := scanner{text: make([]rune, 0, n+8), at: make([]int, 0, n+8), out: make([]piece, 0, n/3+4), last: n}
	i := 0
	for _, r := range text {
		s.fold(r, i)
		i++
	}
	for p := 0; p < len(s.text); {
		p = s.step(p)
	}
	return s.out
}

// fold appends the plain form of r: the form the rest of the reader knows.
func (s *scanner) fold(r rune, at int) {
	put := func(rs ...rune) {
		for _, x := range rs {
			s.text = append(s.text, x)
			s.at = append(s.at, at)
		}
	}
	if s.vulgar && (digit(r) || r == '.' || r == '/') {
		put(' ') // and nothing runs on from it
	}
	s.vulgar = false
	switch {
	case r < utf8.RuneSelf:
		put(r)
	case r >= 0xFF01 && r <= 0xFF5E: // full-width forms
		put(r - 0xFEE0)
	case r == '×' || r == '✕' || r == '✖' || r == 'х' || r == 'Х':
		put('x')
	case r == '“' || r == '”' || r == '″' || r == '„' || r == '〞':
		put('"')
	case r == '‘' || r == '’' || r == '′' || r == '`' || r == '´' || r == 'ʼ':
		put('\'')
	case r == '–' || r == '—' || r == '−' || r == '‐' || r == '‑' || r == '‒':
		put('-')
	case r == '⁄' || r == '∕' || r == '／':
		put('/')
	case r == '…':
		put(',')
	case r == '¡' || r == '¿':
		put(' ')
	case fractions[r] != [2]rune{}:
		f := fractions[r]
		if n := len(s.text); n > 0 && (digit(s.text[n-1]) || s.text[n-1] == '.' || s.text[n-1] == '/') {
			put(' ') // "4⅜" is "4 3/8"
		}
		put(f[0], '/', f[1])
		s.vulgar = true
		return
	case r == '\u00a0' || r == '\u202f' || r == '\u2009':
		put(narrow)
	case unicode.IsSpace(r):
		put(' ')
	case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r):
		// marks that print nothing of their own
	case unicode.IsLetter(r):
		put(unicode.ToLower(r))
	default:
		put(r)
	}
}

var fractions = map[rune][2]rune{
	'½': {'1', '2'}, '¼': {'1', '4'}, '¾': {'3', '4'}, '⅛': {'1', '8'}, '⅜': {'3', '8'}, '⅝': {'5', '8'}, '⅞': {'7', '8'},
}

func (s *scanner) rune(p int) rune {
	if p < 0 || p >= len(s.text) {
		return 0
	}
	return s.text[p]
}

func letter(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= utf8.RuneSelf && unicode.IsLetter(r)
}

func digit(r rune) bool { return r >= '0' && r <= '9' }

// narrow stands for a space that does not break: some group thousands with it.
const narrow = '\ue000'

func blank(r rune) bool { return r == ' ' || r == narrow || r == '\t' || r == '\r' }

// put appends a piece that covers text[p:q].
func (s *scanner) put(x piece, p, q int) int {
	x.at = s.at[p]
	x.end = s.last
	if q < len(s.at) {
		x.end = s.at[q]
	}
	// trailing marks that print nothing belong to no piece
	if q > 0 && s.at[q-1]+1 < x.end {
		x.end = s.at[q-1] + 1
	}
	x.glued = p > 0 && !blank(s.text[p-1]) && s.text[p-1] != '\n'
	s.out = append(s.out, x)
	return q
}

// step reads one piece at p and returns where the next one starts.
func (s *scanner) step(p int) int {
	r := s.text[p]
	switch {
	case blank(r):
		return p + 1
	case r == '\n':
		return s.put(piece{shape: shapeLine}, p, p+1)
	case letter(r):
		return s.word(p)
	case digit(r), r == '.' && digit(s.rune(p+1)) && !digit(s.rune(p-1)):
		return s.number(p)
	case r < 0x20 || r == 0x7F:
		return p + 1 // prints nothing
	}
	switch r {
	case ',', ';', ':', '|', '\\':
		return s.put(piece{shape: shapeBreak, sign: r}, p, p+1)
	case '/':
		return s.put(piece{shape: shapeBreak, sign: '/'}, p, p+1)
	case '.', '!':
		if r == '.' && s.rune(p+1) == '.' { // "...": no end of a sentence
			q := p
			for s.rune(q) == '.' {
				q++
			}
			return s.put(piece{shape: shapeBreak, sign: ','}, p, q)
		}
		return s.put(piece{shape: shapeStop}, p, p+1)
	case '?':
		return s.put(piece{shape: shapeQuery}, p, p+1)
	case '-':
		return s.dash(p)
	case '#', '"', '\'', '(', ')', '+', '&', '@', '~', '=', '%':
		return s.put(piece{shape: shapeSign, sign: r}, p, p+1)
	case '*', '_', '[', ']', '{', '}', '<', '>', '^', '$', '£', '€':
		return s.put(piece{shape: shapeDecor, sign: r}, p, p+1)
	}
	if unicode.IsSymbol(r) || unicode.IsPunct(r) {
		return s.put(piece{shape: shapeDecor}, p, p+1)
	}
	return s.put(piece{shape: shapeAlien}, p, p+1)
}

// word reads letters; an apostrophe inside a word is dropped ("don't"), and a
// hyphen inside one parts it.
func (s *scanner) word(p int) int {
	q := p
	upper := s.text[p] >= 'A' && s.text[p] <= 'Z'
	buf := make([]rune, 0, 16)
	for q < len(s.text) {
		r := s.text[q]
		if letter(r) {
			if r >= 'A' && r <= 'Z' {
				r += 'a' - 'A'
			}
			buf = append(buf, r)
		} else if r != '\'' || !letter(s.rune(q+1)) {
			break
		}
		q++
	}
	w := string(buf)
	if w == "w" && s.rune(q) == '/' { // w/ and w/o
		w, q = "with", q+1
		if r := s.rune(q); (r == 'o' || r == 'O') && !letter(s.rune(q+1)) {
			w, q = "without", q+1
		}
	}
	return s.put(piece{shape: shapeWord, word: w, upper: upper}, p, q)
}

// dash tells a bullet or break from a minus sign and from a hyphen.
func (s *scanner) dash(p int) int {
	before, after := s.rune(p-1), s.rune(p+1)
	if letter(before) && letter(after) || digit(before) && letter(after) || letter(before) && digit(after) {
		return p + 1 // hyphen
	}
	lineStart := true
	for i := p - 1; i >= 0 && s.text[i] != '\n'; i-- {
		if !blank(s.text[i]) {
			lineStart = false
			break
		}
		if p-i > 8 {
			break
		}
	}
	if !lineStart && (digit(after) || after == '.') && (blank(before) || before == '=' || before == ':') {
		return s.put(piece{shape: shapeSign, sign: '-'}, p, p+1)
	}
	return s.put(piece{shape: shapeBreak, sign: '-'}, p, p+1)
}

// number reads 14000, 14,000, 9.8, .375 and the ratio 3/8.
func (s *scanner) number(p int) int {
	x, q := s.decimal(p)
	if s.rune(q) == '/' && digit(s.rune(q+1)) && !x.odd {
		den, e := s.decimal(q + 1)
		if x.num < 100*load.One && den.num < 100*load.One && (!ratio(x.num, den.num) || s.rune(e) == '/' && digit(s.rune(e+1))) {
			var last piece
			more := 0
			for s.rune(e) == '/' && digit(s.rune(e+1)) {
				last, e = s.decimal(e + 1)
				more++
			}
			if year := last.num / load.One; more == 1 && year >= 2000 && year < 2100 {
				x.den, x.dated = den.num, true
			}
			x.odd = true // 3/7, 8/3, 3/8/2
			return s.put(x, p, e)
		}
		if ratio(x.num, den.num) && !den.odd && s.rune(e) != '/' {
			x.shape, x.den = shapeRatio, den.num
			return s.put(x, p, e)
		}
	}
	if s.rune(q) == '-' && digit(s.rune(q+1)) { // a date: 12-25-2026
		_, e := s.decimal(q + 1)
		if s.rune(e) == '-' && digit(s.rune(e+1)) {
			for s.rune(e) == '-' && digit(s.rune(e+1)) {
				_, e = s.decimal(e + 1)
			}
			x.odd = true
			return s.put(x, p, e)
		}
	}
	// "5-16" is 5/16 and "3-8" is 3/8: nobody counts so
	if s.rune(q) == '-' && digit(s.rune(q+1)) && !x.odd {
		den, e := s.decimal(q + 1)
		if x.num == 5*load.One && den.num == 16*load.One || x.num == 3*load.One && den.num == 8*load.One ||
			x.num == 7*load.One && den.num == 16*load.One || x.num == 5*load.One && den.num == 8*load.One {
			if r := s.rune(e); r != '/' && !digit(r) && r != '-' {
				x.shape, x.den = shapeRatio, den.num
				return s.put(x, p, e)
			}
		}
	}
	return s.put(x, p, q)
}

func ratio(n, d load.Micro) bool {
	switch d {
	case 2 * load.One, 4 * load.One, 8 * load.One, 16 * load.One, 32 * load.One, 64 * load.One:
		return n > 0 && n < d && n%load.One == 0
	}
	return false
}

// spacedThousand says whether "000" or "500" and a unit of mass stand at p:
// "14 000 lb".
func (s *scanner) spacedThousand(p int) bool {
	if r := s.rune(p); r != '0' && r != '5' || s.rune(p+1) != '0' || s.rune(p+2) != '0' {
		return false
	}
	for p += 3; s.rune(p) == ' '; p++ {
	}
	switch s.rune(p) {
	case '#':
		return true
	case 'l', 'L':
		return s.rune(p+1) == 'b' || s.rune(p+1) == 'B'
	case 'k', 'K':
		return s.rune(p+1) == 'g' || s.rune(p+1) == 'G'
	case 'p', 'P':
		return s.rune(p+1) == 'o' || s.rune(p+1) == 'O'
	}
	return false
}

// decimal reads one number. A comma or point followed by exactly three digits
// groups thousands; a point before three digits may do so too, so it is odd
// until a unit of tonnes says otherwise.
func (s *scanner) decimal(p int) (piece, int) {
	x := piece{shape: shapeNumber}
	q := p
	var whole, digits int64
	for digit(s.rune(q)) {
		whole = whole*10 + int64(s.text[q]-'0')
		digits++
		q++
		if digits > 12 {
			x.odd, whole = true, 0
		}
	}
	if digits > 0 && digits <= 3 {
		for (s.rune(q) == ',' || s.rune(q) == narrow) && digit(s.rune(q+1)) && digit(s.rune(q+2)) && digit(s.rune(q+3)) && !digit(s.rune(q+4)) {
			whole = whole*1000 + int64(s.text[q+1]-'0')*100 + int64(s.text[q+2]-'0')*10 + int64(s.text[q+3]-'0')
			q += 4
			if whole > 1e11 {
				x.odd, whole = true, 0
			}
		}
	}
	if digits > 0 && digits <= 3 && s.rune(q) == ',' && digit(s.rune(q+1)) && digit(s.rune(q+2)) && digit(s.rune(q+3)) && digit(s.rune(q+4)) {
		x.odd = true // 1,4000
		for q++; digit(s.rune(q)); q++ {
		}
	}
	if digits > 0 && digits <= 3 && s.rune(q) == ' ' && s.spacedThousand(q+1) {
		whole = whole*1000 + int64(s.text[q+1]-'0')*100
		q += 4
	}
	micro := load.Micro(whole) * load.One
	if s.rune(q) == '.' && digit(s.rune(q+1)) {
		x.point = true
		f, scale, n := int64(0), int64(load.One), 0
		for q++; digit(s.rune(q)); q++ {
			n++
			if n <= 6 {
				scale /= 10
				f += int64(s.text[q]-'0') * scale
			} else if s.text[q] != '0' {
				x.odd = true
			}
		}
		micro += load.Micro(f)
		if n == 3 && digits > 0 && whole > 0 {
			x.odd = true // 14.000
		}
		for s.rune(q) == '.' && digit(s.rune(q+1)) { // 1.2.3
			x.odd = true
			for q++; digit(s.rune(q)); q++ {
			}
		}
	}
	x.num = micro
	return x, q
}
