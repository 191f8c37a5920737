package render

import (
	"math"
	"strconv"

	"halfweight/rules/load"
	"halfweight/rules/tables"
)

// measure prints masses in the unit of the chat. Whole numbers only: what is
// asked for is rounded up, what there is is rounded down, so that rounding
// never makes a load look better than it is.
type measure struct {
	size load.Mass
	word string
}

// measureIn is the measure of a chat whose unit is "lb" or "kg".
func measureIn(unit string) measure {
	if unit == "kg" {
		return measure{load.Kilogram, "kg"}
	}
	return measure{load.Pound, "lb"}
}

// up is the least whole number not below m: needs, shortfalls, least ratings.
func (u measure) up(m load.Mass) string {
	return comma(ceil(m, u.size))
}

// down is the greatest whole number not above m: ratings, credits, spares.
func (u measure) down(m load.Mass) string {
	return comma(ceil(m+1, u.size) - 1)
}

// near is the nearest whole number: weights as told.
func (u measure) near(m load.Mass) string {
	return comma(ceil(m-u.size/2, u.size))
}

// stamp is a rating as it is stamped on binders, which is in pounds; in another
// unit with what that is.
func (u measure) stamp(m load.Mass) string { return u.stamped(m, u.down(m)) }

// stampUp is stamp of the least that is asked for.
func (u measure) stampUp(m load.Mass) string { return u.stamped(m, u.up(m)) }

func (u measure) stamped(m load.Mass, here string) string {
	if u.size == load.Pound {
		return here
	}
	pounds := measureIn("lb")
	return pounds.near(m) + " " + pounds.word + " (" + here + " " + u.word + ")"
}

// ceil is m in whole units, rounded up; for negative m too.
func ceil(m, unit load.Mass) int64 {
	n := m / unit
	if m%unit > 0 {
		n++
	}
	return int64(n)
}

// comma writes n with a comma between thousands.
func comma(n int64) string {
	var room [32]byte
	digits := strconv.AppendInt(room[:0], n, 10)
	sign := 0
	if n < 0 {
		sign = 1
	}
	out := append(make([]byte, 0, 32), digits[:sign]...)
	for i, d := range digits[sign:] {
		if i > 0 && (len(digits)-sign-i)%3 == 0 {
			out = append(out, ',')
		}
		out = append(out, d)
	}
	return string(out)
}

// pounds is m in pounds to 0.01, for the data.
func pounds(m load.Mass) float64 {
	whole, rest := m/load.Pound, m%load.Pound
	half := load.Pound / 2
	if m < 0 {
		half = -half
	}
	cents := int64(whole)*100 + int64((rest*100+half)/load.Pound)
	return float64(cents) / 100
}

// inches writes a length as a tape reads: whole inches and the plainest
// fraction to a 64th ("1 1/4"), a decimal where no such fraction is meant.
func inches(l load.Length) string {
	const sixtyFourth = load.Inch / 64
	if l%sixtyFourth != 0 {
		return decimal(l)
	}
	n, of := int64(l/sixtyFourth), int64(64)
	whole := n / of
	n %= of
	if n == 0 {
		return strconv.FormatInt(whole, 10)
	}
	for n%2 == 0 {
		n, of = n/2, of/2
	}
	fraction := strconv.FormatInt(n, 10) + "/" + strconv.FormatInt(of, 10)
	if whole == 0 {
		return fraction
	}
	return strconv.FormatInt(whole, 10) + " " + fraction
}

// decimal writes a length in thousandths of an inch ("0.325"), as a caliper
// reads.
func decimal(l load.Length) string {
	return strconv.FormatFloat(l.Inches(), 'f', 3, 64)
}

// road writes a distance of the road in the miles or kilometres of the rules in
// force.
func (p *page) road(m float64) string {
	if p.lim.Kilometres {
		m = math.Round(m * tables.KmPerMile) // told in whole ones, kept in miles
	}
	return miles(m)
}

// miles writes a distance without a needless fraction.
func miles(m float64) string {
	return strconv.FormatFloat(m, 'f', -1, 64)
}
