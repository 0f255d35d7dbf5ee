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

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/build"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/diag"
)

// run is the whole command on the given streams; it returns the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	defer exit.Catch(stderr, &code)
	terminal.SetColors(stdout)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	return exit.Report(err, stderr)
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:     "lampswap",
		Version: build.Version(),
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
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return exit.Usage(err) })
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
	return exit.Usage(errors.New(text))
}

// atMostOne lets a command take one argument or none.
func atMostOne(what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) > 1 {
			return exit.Usagef("%d arguments, want at most one: %s", len(args), what)
		}
		return nil
	}
}
