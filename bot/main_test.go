package main

import (
	"errors"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"bot": main, "mortal": mortal})
}

func TestProgram(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../testdata/program",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"code":  code,
			"write": write,
		},
	})
}

// code N program args ... runs the program and wants it to end with exit code N.
func code(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N program args ...")
	}
	got := 0
	var exit *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%s: %v", args[1], err)
	}
	if strconv.Itoa(got) != args[0] {
		ts.Fatalf("exit code %d, want %s", got, args[0])
	}
}

// write FILE TEXT [TIMES] writes a file: TEXT with the escapes of a Go string,
// as often as told.
func write(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 || len(args) > 3 {
		ts.Fatalf("usage: write FILE TEXT [TIMES]")
	}
	text, err := strconv.Unquote(`"` + args[1] + `"`)
	ts.Check(err)
	times := 1
	if len(args) == 3 {
		times, err = strconv.Atoi(args[2])
		ts.Check(err)
	}
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o666)
	ts.Check(err)
	_, err = f.WriteString(strings.Repeat(text, times))
	ts.Check(err)
	ts.Check(f.Close())
}
