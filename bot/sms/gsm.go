// Package sms carries chats by plain text messages, through a gateway that calls
// over HTTP for each message that comes in and takes the reply from the answer,
// or is called in its turn. It knows no load and no rule.
package sms

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// basic are the characters of the GSM 03.38 default alphabet (3GPP TS 23.038,
// 6.2.1), each of one septet; those of its extension table (6.2.1.1) take two.
const (
	basic = "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?" +
		"¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà"
	extended = "^{}\\[~]|€\f"
)

// Septets of one message alone, and of each of several that belong together: six
// bytes of those tell which part it is (3GPP TS 23.040, 9.2.3.24.1).
const (
	alone = 160
	each  = 153
)

// Most segments of one reply.
const segments = 2

// septets is how many of them a character takes; 0 for one not in the alphabet.
func septets(r rune) int {
	switch {
	case int(r) < len(lengths):
		return int(lengths[r])
	case r == '€':
		return 2
	}
	return 0
}

// lengths are the septets of the characters below the euro sign's, which is the
// one above the Greek letters.
var lengths = func() (l [0x400]uint8) {
	for _, r := range basic {
		l[r] = 1
	}
	for _, r := range strings.ReplaceAll(extended, "€", "") {
		l[r] = 2
	}
	return l
}()

// Segments is how many messages a text takes in the GSM alphabet; ok is false
// where a character of it is not in the alphabet. A character of two septets is
// not split between two messages.
func Segments(text string) (n int, ok bool) {
	all, left, parts := 0, 0, 0
	for _, r := range text {
		s := septets(r)
		if s == 0 {
			return 0, false
		}
		all += s
		if left < s {
			parts, left = parts+1, each
		}
		left -= s
	}
	switch {
	case all == 0:
		return 0, true
	case all <= alone:
		return 1, true
	}
	return parts, true
}

// like are the signs that a reply may hold and the alphabet does not, each with
// what stands for it there.
var like = strings.NewReplacer(
	"‘", "'", "’", "'", "‚", "'", "′", "'", "`", "'", "“", "\"", "”", "\"", "„", "\"", "″", "\"", "«", "\"", "»", "\"",
	"–", "-", "—", "-", "−", "-", "‐", "-", "‑", "-", "…", "...", "•", "-", "·", "-", "×", "x", "÷", "/", "°", " deg", "⁄", "/",
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ", "¼", "1/4", "½", "1/2", "¾", "3/4", "⅜", "3/8", "⅝", "5/8", "⅞", "7/8", "⅛", "1/8",
	"✓", "ok", "⏎", " ",
)

// Plain is a text in the GSM alphabet: signs that it lacks by those that stand for
// them, letters without marks it does not have, anything else a question mark, so
// that no reply takes the other alphabet, of 70 characters a message.
func Plain(text string) string {
	if _, ok := Segments(text); ok {
		return text
	}
	var b strings.Builder
	for _, r := range like.Replace(text) {
		if septets(r) > 0 {
			b.WriteRune(r)
			continue
		}
		known := false
		for _, d := range norm.NFKD.String(string(r)) {
			switch {
			case unicode.Is(unicode.Mn, d):
			case septets(d) > 0:
				b.WriteRune(d)
				known = true
			}
		}
		if !known && unicode.IsPrint(r) {
			b.WriteByte('?')
		}
	}
	return b.String()
}

// Fits says whether a text, made plain, is one reply's worth.
func Fits(text string) bool {
	n, _ := Segments(Plain(text))
	return n <= segments
}
