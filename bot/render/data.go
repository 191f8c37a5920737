package render

import (
	"bytes"
	"encoding/json"
	"strings"

	"halfweight/bot/talk"
	"halfweight/rules"
	"halfweight/rules/load"
)

// The data contract of `ask --json`. Names and order of the fields are stable:
// fields may be added, never renamed. Weights are in pounds, exact to 0.01.
type (
	answer struct {
		Text        string    `json:"text"`
		Verdict     string    `json:"verdict"`
		LoadVerdict *string   `json:"load_verdict"`
		Articles    []article `json:"articles"`
		Assumed     []coded   `json:"assumed"`
		Remarks     []coded   `json:"remarks"`
		Unread      []unread  `json:"unread"`
		Ask         *string   `json:"ask"`
		Hold        *held     `json:"hold,omitempty"` // a mechanics answer
		Reply       string    `json:"reply"`
	}
	article struct {
		Name     string    `json:"name"`
		Weight   *float64  `json:"weight_lb"` // as told, the upper one of a range; null untold
		Need     *float64  `json:"need_lb"`
		Credit   float64   `json:"credit_lb"`
		Spare    *float64  `json:"spare_lb"` // credit minus need, below zero when short
		GoodUpTo float64   `json:"good_up_to_lb"`
		TieDowns []tiedown `json:"tiedowns"`
		SetAside []aside   `json:"set_aside"`
		Sinks    []sink    `json:"sinks"`
		Mend     []string  `json:"mend"`
		Findings []finding `json:"findings"`
	}
	tiedown struct {
		Count     int     `json:"count"`
		What      string  `json:"what"`
		WLL       float64 `json:"wll_lb"`
		LimitedBy string  `json:"limited_by"`
		Route     *string `json:"route"`
		Place     *string `json:"place"`
		Credit    float64 `json:"credit_lb"`
		Usable    bool    `json:"usable"`
	}
	aside struct {
		Count int    `json:"count"`
		What  string `json:"what"`
		Why   string `json:"why"`
		Fix   bool   `json:"fix"`
		Cite  string `json:"cite"`
	}
	sink struct {
		Count int     `json:"count"`
		What  string  `json:"what"`
		Place *string `json:"place"`
	}
	finding struct {
		Rule    string `json:"rule"`
		Subject string `json:"subject"`
		Outcome string `json:"outcome"`
		Cite    string `json:"cite"`
		Say     string `json:"say"`
	}
	coded struct {
		Code string `json:"code"`
		Say  string `json:"say"`
	}
	unread struct {
		Text string `json:"text"`
		At   int    `json:"at"`
	}
)

// Data is the reply as one JSON object on one line, without a line end.
func Data(r talk.Reply) []byte { return Body(r).Data }

func (p *page) data(r talk.Reply) []byte {
	a := answer{
		Text:        r.Text,
		Verdict:     r.Verdict,
		LoadVerdict: told(r.LoadVerdict),
		Articles:    []article{},
		Assumed:     []coded{},
		Remarks:     []coded{},
		Unread:      make([]unread, 0, len(r.Unread)),
		Reply:       p.reply(),
		Hold:        heldData(r.Says),
	}
	if r.Report != nil {
		a.Articles = make([]article, 0, len(r.Report.Articles))
		for i := range r.Report.Articles {
			a.Articles = append(a.Articles, p.article(&r.Report.Articles[i]))
		}
	}
	for _, s := range p.took {
		a.Assumed = append(a.Assumed, coded{s.code, s.say})
	}
	for _, s := range p.remarked(r) {
		a.Remarks = append(a.Remarks, coded{s.code, s.say})
	}
	for _, s := range r.Unread {
		a.Unread = append(a.Unread, unread{s.Text, s.At})
	}
	if r.Ask != nil {
		a.Ask = told(strings.TrimSpace(p.question(r) + " " + p.options(r.Ask)))
	}
	var out bytes.Buffer
	out.Grow(4096)
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(a); err != nil {
		panic(err) // only a type that JSON cannot hold: there is none above
	}
	return bytes.TrimSuffix(out.Bytes(), []byte("\n"))
}

func (p *page) article(c *rules.Count) article {
	a := article{
		Name:     c.Article.Name,
		Credit:   pounds(c.Credit),
		GoodUpTo: pounds(c.GoodUpTo),
		TieDowns: make([]tiedown, 0, len(c.Lines)),
		SetAside: make([]aside, 0, len(c.SetAside)),
		Sinks:    make([]sink, 0, len(c.Sinks)),
		Mend:     make([]string, 0, len(c.Mends)),
		Findings: make([]finding, 0, len(c.Findings)),
	}
	if c.Article.Weight.Known() {
		a.Weight = number(c.Article.Weight.Told)
		a.Need = number(c.Need)
		a.Spare = number(c.Credit - c.Need)
	}
	parts := c.Article.Parts
	for _, l := range c.Lines {
		a.TieDowns = append(a.TieDowns, tiedown{
			Count: l.Count, What: p.w.full(l.Tie), WLL: pounds(l.WLL), LimitedBy: l.LimitedBy,
			Route: told(string(l.Tie.Route)), Place: told(p.w.place(placeOf(c, &l), parts)),
			Credit: pounds(l.Credit), Usable: l.Usable,
		})
	}
	for _, s := range c.SetAside {
		a.SetAside = append(a.SetAside, aside{s.Count, p.w.full(s.Tie), s.Why, s.Fix, s.Cite})
	}
	for _, l := range c.Sinks {
		a.Sinks = append(a.Sinks, sink{l.Count, p.w.full(l.Tie), told(p.w.place(placeOf(c, &l), parts))})
	}
	for i := range c.Mends {
		a.Mend = append(a.Mend, p.mend(c, &c.Mends[i], p.mendKind(&c.Mends[i])))
	}
	for i := range c.Findings {
		f := &c.Findings[i]
		a.Findings = append(a.Findings, finding{f.Rule, f.Subject, f.Outcome.String(), f.Cite, p.finding(c, f)})
	}
	return a
}

// mendKind names the kind to put on; of several, so that no number stands before
// a fraction.
func (p *page) mendKind(m *rules.Mend) string {
	if m.Count > 1 {
		return p.w.Name.Of + p.w.full(m.Tie)
	}
	return p.w.full(m.Tie)
}

// told is nil for what was not told.
func told(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func number(m load.Mass) *float64 {
	n := pounds(m)
	return &n
}
