package rules_test

import (
	"flag"
	"os"
	"testing"
)

// Properties are cheap here: unless told otherwise, draw more than rapid's 100.
func TestMain(m *testing.M) {
	flag.Parse()
	told := false
	flag.Visit(func(f *flag.Flag) { told = told || f.Name == "rapid.checks" })
	if !told {
		if err := flag.Set("rapid.checks", "500"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
