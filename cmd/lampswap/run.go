package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"

	"lampswap/photometry/diag"
	"lampswap/photometry/interreflect"
)

// Exit codes, as scripts rely on them.
const (
	exitDone = iota
	exitNotMet
	exitWrongInput
	exitFailed
)

// errNotMet says that the work is done and that a criterion is not met.
var errNotMet = errors.New("a criterion is not met")

// A usageError is a wrong command line.
type usageError struct{ error }

// run is the whole command on the given streams; it returns the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	defer catchPanic(stderr, &code)
	setColors(stdout)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	return report(err, stderr)
}

// setColors leaves bold text to terminals, and to those whose user has not set NO_COLOR.
func setColors(stdout io.Writer) {
	if _, no := os.LookupEnv("NO_COLOR"); !no && isTerminal(stdout) {
		text.EnableColors()
		return
	}
	text.DisableColors()
}

// isTerminal tells whether a person reads what is written there.
func isTerminal(w io.Writer) bool {
	f, isFile := w.(*os.File)
	if !isFile {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// report writes an error to the given stream and maps it to an exit code; nothing else does.
func report(err error, stderr io.Writer) int {
	var faults diag.List
	var usage usageError
	var ended batchError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errNotMet):
		return exitNotMet
	case errors.As(err, &ended):
		return ended.code
	case errors.As(err, &faults):
		fmt.Fprintln(stderr, faults.Error())
		return exitWrongInput
	case errors.As(err, &usage):
		fmt.Fprintf(stderr, "lampswap: %v\n", err)
		return exitWrongInput
	case errors.As(err, new(*interreflect.MemoryError)), errors.Is(err, interreflect.ErrEndless):
		fmt.Fprintf(stderr, "lampswap: %v\n", err)
		return exitWrongInput
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "lampswap: interrupted, nothing written")
		return exitFailed
	}
	fmt.Fprintf(stderr, "lampswap: %v\n", err)
	tellStack(err, stderr)
	return exitFailed
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:     "lampswap",
		Version: version(),
		Short:   "Will the space still be bright enough after the lamp swap?",
		Long: `lampswap works out the light of a warehouse or shop before and after its
fluorescent lamps are swapped: maintained footcandles by the lumen method and
point by point, against published levels.

  designer    lampswap check JOB.toml     is the light adequate, by two methods
              lampswap options JOB.toml   which lamp and ballast would be
  contractor  lampswap proposal JOB.toml  pages to attach to a proposal
              lampswap plot JOB.toml      the light maps alone
  inspector   lampswap stations, verify   where to measure, what readings prove
  start here  lampswap check              the built-in demonstration job`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return cmd.Help()
		},
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	setHelp(root)
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(newCheck(), newOptions(), newPlot(), newProposal(), newStations(), newVerify(), newFixture(), newNew(), newLamps(), newLevels(), newServe(), newBatch())
	return root
}

func unknownCommand(root *cobra.Command, word string) error {
	var names []string
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	text := fmt.Sprintf("%q is no command, want one of %s", word, strings.Join(names, ", "))
	if near := diag.Nearest(word, names); near != "" {
		text += " (" + near + "?)"
	}
	return usageError{errors.New(text)}
}

// atMostOne lets a command take one argument or none.
func atMostOne(what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) > 1 {
			return usageError{fmt.Errorf("%d arguments, want at most one: %s", len(args), what)}
		}
		return nil
	}
}
