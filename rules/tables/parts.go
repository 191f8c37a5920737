package tables

import (
	_ "embed"
	"sync"
)

//go:embed parts.csv
var partsCSV string

// Part is a row of parts.csv: something on a machine that moves by itself.
type Part struct {
	Key        string
	Sort       string // "tool", "arm", "body", "leg", "turn", "fitting"
	Attachment bool   // carried in place of a bucket, and taken off like one
	LockEnough bool   // a lock or pin holds it at any weight, on any machine
}

type partTable struct {
	list  []Part
	byKey map[string]int
}

var parts = sync.OnceValue(func() partTable {
	t := partTable{list: parse("parts.csv", partsCSV, func(r row) Part {
		return Part{
			Key:        r.text("key"),
			Sort:       r.text("sort"),
			Attachment: r.text("attachment") == "yes",
			LockEnough: r.text("locks") == "any",
		}
	})}
	t.byKey = make(map[string]int, len(t.list))
	for i := range t.list {
		t.byKey[t.list[i].Key] = i
	}
	return t
})

// FindPart finds a part by its key.
func FindPart(key string) (p Part, ok bool) {
	t := parts()
	i, ok := t.byKey[key]
	if !ok {
		return Part{}, false
	}
	return t.list[i], true
}

// Parts lists all parts, in file order.
func Parts() []Part { return parts().list }
