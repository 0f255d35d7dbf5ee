package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/levels"
	"lampswap/photometry/metrology"
	"lampswap/photometry/spaces"
	"lampswap/plots"
)

// shells are those that can complete a command line, with what a user adds to the start of a session to have it.
var shells = map[string]string{
	"bash":       "  source <(lampswap completion bash)",
	"zsh":        "  source <(lampswap completion zsh)",
	"fish":       "  lampswap completion fish | source",
	"powershell": "  lampswap completion powershell | Out-String | Invoke-Expression",
}

// flagWords are the words that flags take, in every command that has the flag; a command's own stand before them. They are asked
// for when a shell completes: tables are not read to start.
var flagWords = map[string]func() []string{
	"check --format": these(formats...),
	"--format":       these("text", "json"),
	"--formats":      these(plots.Formats...),
	"--system":       these("existing", "proposed"),
	"--plan":         these(stations.Kinds...),
	"--paper":        func() []string { return slices.Sorted(maps.Keys(document.Papers)) },
	"--meter-class":  func() []string { return append(metrology.MeterClasses(), unknownMeter) },
	"--meter-unit":   these("fc", "lx"),
	"--daylight":     these("dark", "subtracted", "present"),
	"--lamp":         catalog.LampNames,
	"--demo":         jobs.DemoNames,
	"--part":         these(string(proposal.Offer), string(proposal.Record), string(proposal.Both)),
	"--language":     phrases.Languages,
}

func these(words ...string) func() []string { return func() []string { return words } }

// argumentWords are what the arguments of a command may be: words, and endings of files. A command that is not here takes job files.
var argumentWords = map[string]struct {
	words   func() []string
	endings []string
}{
	"fixture": {fixture.Builtin, []string{"ies"}},
	"lamps":   {catalog.LampNames, nil},
	"levels":  {func() []string { return slices.Concat(levels.Names(), spaces.IDs()) }, nil},
}

// completeWords lets a shell complete what flags and arguments may be.
func completeWords(root *cobra.Command) {
	for _, c := range root.Commands() {
		c.Flags().VisitAll(func(f *pflag.Flag) {
			words, own := flagWords[c.Name()+" --"+f.Name]
			if !own {
				words = flagWords["--"+f.Name]
			}
			if words == nil {
				return
			}
			complete := func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
				return words(), cobra.ShellCompDirectiveNoFileComp
			}
			if err := c.RegisterFlagCompletionFunc(f.Name, complete); err != nil {
				panic("lampswap: " + err.Error())
			}
		})
		c.ValidArgsFunction = argumentsOf(c.Name())
	}
}

// argumentsOf completes the arguments of a command.
func argumentsOf(command string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, begun string) ([]cobra.Completion, cobra.ShellCompDirective) {
		of, known := argumentWords[command]
		switch {
		case command == "man":
			return nil, cobra.ShellCompDirectiveFilterDirs
		case command == "verify" && len(args) == 1:
			return []cobra.Completion{"csv"}, cobra.ShellCompDirectiveFilterFileExt
		case !known:
			return []cobra.Completion{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		}
		other := func(word string) bool { return !strings.HasPrefix(strings.ToLower(word), strings.ToLower(begun)) }
		if words := slices.DeleteFunc(slices.Clone(of.words()), other); len(words) > 0 || len(of.endings) == 0 {
			return words, cobra.ShellCompDirectiveNoFileComp
		}
		return of.endings, cobra.ShellCompDirectiveFilterFileExt
	}
}

// addCompletion adds the scripts that let a shell complete commands and flags, in words of our own.
func addCompletion(root *cobra.Command) {
	completeWords(root)
	root.InitDefaultCompletionCmd("completion")
	completion, _, err := root.Find([]string{"completion"})
	if err != nil || completion == root {
		panic("lampswap: no completion")
	}
	completion.Short = "A script that lets a shell complete commands and flags"
	completion.Long = "completion writes a script for one shell to standard output. A line in the file\nthat the shell reads at its start puts it to use; the help of each shell has it."
	completion.Example = "  lampswap completion bash > lampswap.bash"
	completion.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return unknownCommand(c, args[0])
		}
		return c.Help()
	}
	completion.Args = cobra.ArbitraryArgs
	for _, shell := range completion.Commands() {
		shell.Short = "The script for " + shell.Name()
		shell.Long = fmt.Sprintf("%s writes the script for that shell to standard output. The line that puts it to\nuse, in the file that the shell reads at its start:\n\n%s",
			shell.Name(), shells[shell.Name()])
		shell.Example = fmt.Sprintf("  lampswap completion %s > lampswap.%s", shell.Name(), shell.Name())
		shell.Args = func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return exit.Usagef("%q is too much, want no word behind the shell", args[0])
			}
			return nil
		}
		shell.RunE = func(c *cobra.Command, _ []string) error { return script(c.Root(), c.Name(), c.OutOrStdout()) }
	}
}

// script writes a shell's script to where the command writes; cobra's own commands write to where it wrote when they were made.
func script(root *cobra.Command, shell string, out io.Writer) error {
	switch shell {
	case "bash":
		return root.GenBashCompletionV2(out, true)
	case "zsh":
		return root.GenZshCompletion(out)
	case "fish":
		return root.GenFishCompletion(out, true)
	case "powershell":
		return root.GenPowerShellCompletionWithDesc(out)
	}
	panic("lampswap: no script for " + shell)
}
