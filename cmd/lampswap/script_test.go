package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"go.uber.org/goleak"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/photometry/longtest"
)

// programs are what this test's binary is under other names, which are in the path of what it starts.
var programs = map[string]func(){"lampswap": main}

func TestMain(m *testing.M) {
	testscript.Main(leakless{m}, programs)
}

// leakless are tests that fail if one leaves a goroutine behind.
type leakless struct{ *testing.M }

func (l leakless) Run() int {
	code := l.M.Run()
	if err := goleak.Find(); code == 0 && err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return code
}

// Each script in testdata is one behaviour as a user meets it; its name begins with the subcommand.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			for _, name := range []string{"strip-2x8ft-t12.ies", "strip-4x4ft-t8.ies"} {
				text, err := jobs.Demo.ReadFile("demo/" + name)
				if err != nil {
					return err
				}
				if err := os.WriteFile(env.WorkDir+"/"+name, text, 0o644); err != nil {
					return err
				}
			}
			return nil
		},
		Condition: func(name string) (bool, error) {
			if name != "long" {
				return false, fmt.Errorf("unknown condition %q", name)
			}
			return longtest.On(), nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){"exits": exits, "rewrite": rewrite},
	})
}

// rewrite OLD NEW FROM TO writes a file anew with one text, which must be there, in place of another; \n in it ends a line.
func rewrite(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: rewrite OLD NEW FROM TO")
	}
	text := ts.ReadFile(args[2])
	if !strings.Contains(text, args[0]) {
		ts.Fatalf("there is no %q in %s", args[0], args[2])
	}
	text = strings.Replace(text, args[0], strings.ReplaceAll(args[1], `\n`, "\n"), 1)
	ts.Check(os.WriteFile(ts.MkAbs(args[3]), []byte(text), 0o644))
}

// exits CODE COMMAND... runs a command that must end with that code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	if exit := new(exec.ExitError); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("%s", fmt.Sprintf("exit code %d, want %d", got, want))
	}
}
