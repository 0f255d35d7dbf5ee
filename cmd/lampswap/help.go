package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lampswap/cmd/lampswap/internal/terminal"
)

// setHelp gives a command, and those below it, help that keeps within terminal.Width.
func setHelp(root *cobra.Command) {
	root.SetUsageFunc(func(c *cobra.Command) error {
		_, err := io.WriteString(c.OutOrStderr(), usageOf(c))
		return err
	})
	root.SetHelpFunc(func(c *cobra.Command, _ []string) {
		fmt.Fprintf(c.OutOrStdout(), "%s\n\n%s", reflowed(aboutOf(c)), usageOf(c))
	})
}

// aboutOf is what a command says of itself.
func aboutOf(c *cobra.Command) string {
	if c.Long == "" {
		return c.Short
	}
	return c.Long
}

// newHelp is help as a command of its own: "lampswap help check".
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND]",
		Short:   "What a command does, its flags and examples",
		Example: "  lampswap help\n  lampswap help check",
		RunE: func(c *cobra.Command, args []string) error {
			of, rest, err := c.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return unknownCommand(of, rest[0])
			}
			of.InitDefaultHelpFlag()
			of.InitDefaultVersionFlag()
			return of.Help()
		},
	}
}

// usageOf lists how a command is called, its examples, the commands below it and its flags.
func usageOf(c *cobra.Command) string {
	var b strings.Builder
	b.WriteString("Usage:\n")
	if c.Runnable() {
		b.WriteString(continued("  "+c.UseLine()) + "\n")
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprintf(&b, "  %s [command]\n", c.CommandPath())
	}
	if c.HasExample() {
		b.WriteString("\nExamples:\n")
		for line := range strings.SplitSeq(c.Example, "\n") {
			b.WriteString(continued(line) + "\n")
		}
	}
	if c.HasAvailableSubCommands() {
		b.WriteString("\nAvailable Commands:\n")
		for _, below := range c.Commands() {
			if below.IsAvailableCommand() || below.Name() == "help" {
				name := fmt.Sprintf("  %-*s ", below.NamePadding(), below.Name())
				b.WriteString(terminal.Hung(name, below.Short) + "\n")
			}
		}
	}
	if c.HasAvailableLocalFlags() {
		b.WriteString("\nFlags:\n" + flagUsages(c.LocalFlags()))
	}
	if c.HasAvailableInheritedFlags() {
		b.WriteString("\nGlobal Flags:\n" + flagUsages(c.InheritedFlags()))
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprintf(&b, "\nUse \"%s [command] --help\" for more information about a command.\n", c.CommandPath())
	}
	return b.String()
}

// flagUsages lists flags: their names in one column, what they do in the other.
func flagUsages(flags *pflag.FlagSet) string {
	type entry struct{ names, usage string }
	var shown []entry
	widest := 0
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		e := entry{names: "      --" + f.Name}
		if f.Shorthand != "" {
			e.names = "  -" + f.Shorthand + ", --" + f.Name
		}
		var value string
		value, e.usage = pflag.UnquoteUsage(f)
		if f.Value.Type() != "bool" { // a switch takes no word
			e.names += " " + value
		}
		e.usage += defaultOf(f)
		widest = max(widest, utf8.RuneCountInString(e.names))
		shown = append(shown, e)
	})
	var b strings.Builder
	for _, e := range shown {
		b.WriteString(terminal.Hung(fmt.Sprintf("%-*s   ", widest, e.names), e.usage) + "\n")
	}
	return b.String()
}

// defaultOf tells the default of a flag that has one.
func defaultOf(f *pflag.Flag) string {
	switch f.DefValue {
	case "", "0", "[]", "false", "0s":
		return ""
	}
	if f.Value.Type() == "string" {
		return fmt.Sprintf(" (default %q)", f.DefValue)
	}
	return " (default " + f.DefValue + ")"
}

// reflowed breaks anew the paragraphs that have a line over terminal.Width; what fits stays as it was set. A paragraph is of lines that are
// set in alike.
func reflowed(about string) string {
	var out, block []string
	indent := ""
	flush := func() {
		if len(block) == 0 {
			return
		}
		for _, line := range block {
			if utf8.RuneCountInString(line) > terminal.Width {
				block = []string{terminal.Hung(indent, strings.Join(strings.Fields(strings.Join(block, " ")), " "))}
				break
			}
		}
		out, block = append(out, block...), nil
	}
	for line := range strings.SplitSeq(strings.TrimRight(about, "\n "), "\n") {
		setIn := line[:len(line)-len(strings.TrimLeft(line, " "))]
		if setIn != indent || line == "" {
			flush()
		}
		if line == "" {
			out = append(out, "")
			continue
		}
		indent, block = setIn, append(block, line)
	}
	flush()
	return strings.Join(out, "\n")
}

// continued breaks a command line that is too long as a shell takes it, with backslashes.
func continued(line string) string {
	const end, more = ` \`, "      "
	var out []string
	for utf8.RuneCountInString(line) > terminal.Width {
		at := strings.LastIndex(line[:terminal.Width-len(end)+1], " ")
		if strings.TrimSpace(line[:max(at, 0)]) == "" {
			break // one word
		}
		out, line = append(out, line[:at]+end), more+line[at+1:]
	}
	return strings.Join(append(out, line), "\n")
}
