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
	"github.com/spf13/pflag"

	"lampswap/cmd/lampswap/internal/build"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/notices"
	"lampswap/cmd/lampswap/internal/terminal"
)

// run is the whole command on the given streams; it returns the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	defer exit.Catch(stderr, &code)
	terminal.SetColors(stdout)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)           // a second Ctrl-C ends it at once
	if len(args) == 0 && doubleClicked() { // there is nobody to read the help
		args = []string{"serve", "--open"}
	}
	cobra.MousetrapHelpText = "" // what it would say to who double-clicks on Windows, in place of the page
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(stdin)
	out := &keeper{to: stdout}
	root.SetOut(out)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	if err == nil {
		err = out.failed
	}
	return exit.Report(err, stderr)
}

// A keeper keeps the first error of writing the answer, so that none is lost where nobody asks for it: help, lists.
type keeper struct {
	to     io.Writer
	failed error
}

func (k *keeper) Write(text []byte) (int, error) {
	n, err := k.to.Write(text)
	if err != nil && k.failed == nil {
		k.failed = files.Plainly("the answer", err)
	}
	return n, err
}

// about tells who asks the command what.
const about = `lampswap tells whether a warehouse or shop is still bright enough after the
lamps of its old fluorescent strips are swapped. It works out the maintained
light, existing and proposed, by the lumen method and point by point, and holds
it against criteria: published levels, energy codes or the owner's own.

  designer     is the light enough        lampswap check JOB.toml
               which lamp would be        lampswap options JOB.toml
  contractor   pages for a proposal       lampswap proposal JOB.toml -o JOB.pdf
               the light maps alone       lampswap plot JOB.toml -o maps
  inspector    where to measure           lampswap stations JOB.toml -o survey
               what readings prove        lampswap verify JOB.toml READINGS.csv`

// firstTries are the commands that a newcomer gives first.
const firstTries = `  lampswap check              # the built-in demonstration job
  lampswap new dock.toml      # a commented job file to start from
  lampswap check dock.toml    # that job, before and after`

func init() { cobra.AddTemplateFunc("build", build.Describe) }

func newRoot() *cobra.Command {
	licenses := false
	root := &cobra.Command{
		Use:           "lampswap",
		Version:       "asked for when it is shown", // which may take a check sum of the program
		Short:         "Is the space still bright enough after the lamp swap?",
		Long:          about,
		Example:       firstTries,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			if licenses {
				_, err := fmt.Fprint(cmd.OutOrStdout(), notices.Text)
				return err
			}
			_, err := fmt.Fprintf(cmd.OutOrStdout(), "%s\n\nTry first:\n%s\n\n%s\n", about, firstTries, moreHelp)
			return err
		},
	}
	setHelp(root)
	root.SetVersionTemplate("{{build}}")
	root.Flags().BoolVar(&licenses, "licenses", false, "show the notices of all that is part of lampswap: modules, fonts, Go itself")
	root.SetFlagErrorFunc(wrongFlag)
	root.AddCommand(newCheck(), newOptions(), newPlot(), newProposal(), newStations(), newVerify(), newFixture(), newNew(), newLamps(), newLevels(), newServe(),
		newBatch(), newMan())
	root.SetHelpCommand(newHelp())
	addCompletion(root)
	return root
}

// moreHelp ends the screen that stands for a command without words.
const moreHelp = "All commands: lampswap --help. One of them: lampswap check --help."

// unknownCommand tells which commands there are, and which is nearest to the word.
func unknownCommand(parent *cobra.Command, word string) error {
	var names []string
	for _, c := range parent.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	return exit.Usagef("%q is no command, want one of %s%s", word, strings.Join(names, ", "), exit.Perhaps(word, names))
}

// wrongFlag tells which flag is nearest to one that is not known.
func wrongFlag(c *cobra.Command, err error) error {
	unknown, ok := errors.AsType[*pflag.NotExistError](err)
	if !ok {
		return exit.Usage(err)
	}
	word := unknown.GetSpecifiedName()
	if unknown.GetSpecifiedShortnames() != "" {
		return exit.Usagef("%w, see %s --help", err, c.CommandPath())
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, "--"+f.Name) })
	return exit.Usagef("--%s is no flag of %s%s, see %s --help", word, c.CommandPath(), exit.Perhaps("--"+word, names), c.CommandPath())
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
