package tables

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"halfweight/rules/load"
)

// row is one line of an embedded table. Its readers panic on a cell that does
// not read: the tables are part of the program, and a test reads every one.
type row struct {
	table  string
	line   int
	column map[string]int
	cells  []string
}

// read splits a table into its rows, without the heading.
func read(table, text string) []row {
	lines, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("table %s: %v", table, err))
	}
	column := make(map[string]int, len(lines[0]))
	for i, name := range lines[0] {
		column[name] = i
	}
	rows := make([]row, len(lines)-1)
	for i, cells := range lines[1:] {
		rows[i] = row{table, i + 2, column, cells}
	}
	return rows
}

// parse reads every row of a table with one function.
func parse[T any](table, text string, one func(row) T) []T {
	rows := read(table, text)
	out := make([]T, len(rows))
	for i, r := range rows {
		out[i] = one(r)
	}
	return out
}

func (r row) text(column string) string {
	i, ok := r.column[column]
	if !ok {
		panic(fmt.Sprintf("table %s has no column %q", r.table, column))
	}
	return r.cells[i]
}

func (r row) bad(column string) string {
	return fmt.Sprintf("table %s, line %d: %s %q does not read", r.table, r.line, column, r.text(column))
}

// list splits a cell; an empty one is no items.
func (r row) list(column, between string) []string {
	cell := r.text(column)
	if cell == "" {
		return nil
	}
	return strings.Split(cell, between)
}

func (r row) whole(column string) int64 {
	n, err := strconv.ParseInt(r.text(column), 10, 64)
	if err != nil {
		panic(r.bad(column))
	}
	return n
}

func (r row) pounds(column string) load.Mass    { return load.Mass(r.whole(column)) * load.Pound }
func (r row) kilograms(column string) load.Mass { return load.Mass(r.whole(column)) * load.Kilogram }

// inches reads "3/8", "1-3/4", "1.75" or "4"; an empty cell is 0.
func (r row) inches(column string) load.Length {
	cell := r.text(column)
	if cell == "" {
		return 0
	}
	l, ok := inches(cell)
	if !ok {
		panic(r.bad(column))
	}
	return l
}

// inches is exact for fractions down to 1/64 in and for four decimals.
func inches(cell string) (load.Length, bool) {
	whole, fraction, mixed := strings.Cut(cell, "-")
	if !mixed {
		whole, fraction = "0", cell
	}
	top, bottom, divided := strings.Cut(fraction, "/")
	if !divided {
		if mixed {
			return 0, false
		}
		return decimal(cell)
	}
	w, err := strconv.ParseInt(whole, 10, 64)
	if err != nil {
		return 0, false
	}
	t, err := strconv.ParseInt(top, 10, 64)
	if err != nil {
		return 0, false
	}
	b, err := strconv.ParseInt(bottom, 10, 64)
	if err != nil || b < 1 || int64(load.Inch)%b != 0 {
		return 0, false
	}
	return load.Length(w)*load.Inch + load.Length(t)*load.Inch/load.Length(b), true
}

func decimal(cell string) (load.Length, bool) {
	const places = 4
	whole, part, _ := strings.Cut(cell, ".")
	if len(part) > places {
		return 0, false
	}
	n, err := strconv.ParseInt(whole+part+strings.Repeat("0", places-len(part)), 10, 64)
	return load.Length(n) * load.Inch / 10_000, err == nil
}

func (r row) source() Source {
	return Source{Text: r.text("source"), Mark: r.text("mark"), Cite: r.text("cite")}
}

func (r row) figure() Figure {
	return Figure{WLL: r.pounds("wll_lb"), Metric: r.kilograms("wll_kg"), Source: r.source()}
}
