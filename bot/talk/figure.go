package talk

import (
	"strings"

	"halfweight/rules/load"
)

// figure reads a bare figure: "3/8", ".31", "14,000", "1 1/2".
func figure(s string) (load.Micro, bool) {
	s = strings.TrimSpace(s)
	if whole, frac, mixed := strings.Cut(s, " "); mixed {
		a, ok := decimal(whole)
		b, okB := ratio(strings.TrimSpace(frac))
		return a + b, ok && okB
	}
	if strings.Contains(s, "/") {
		return ratio(s)
	}
	return decimal(s)
}

func ratio(s string) (load.Micro, bool) {
	top, under, found := strings.Cut(s, "/")
	n, ok := decimal(top)
	d, okD := decimal(under)
	if !found || !ok || !okD || d == 0 {
		return 0, false
	}
	return (n*load.One + d/2) / d, true
}

// decimal reads digits with commas and a point, up to a million.
func decimal(s string) (n load.Micro, ok bool) {
	unit, after := load.One, false
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9' && after:
			unit /= 10
			n += load.Micro(r-'0') * unit
		case r >= '0' && r <= '9':
			n = n*10 + load.Micro(r-'0')*load.One
		case r == '.' && !after:
			after = true
			continue
		case r != ',' || after:
			return 0, false
		}
		ok = ok || r != ','
		if n > 1_000_000*load.One {
			return 0, false
		}
	}
	return n, ok
}

// times is n units of u where ok holds so far.
func times(n load.Micro, u load.Length, ok bool) (load.Length, bool) {
	if !ok {
		return 0, false
	}
	return load.Times(n, u)
}
