package main

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"lampswap/cmd/lampswap/internal/build"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
)

func newMan() *cobra.Command {
	return &cobra.Command{
		Use:   "man DIR",
		Short: "Write the manual, a page a command",
		Long: `man writes a manual page for every command into a folder, which is made if it is
not there, and names the files on standard output. They are of section 1: a
folder man1 among those that MANPATH names.`,
		Example: "  lampswap man man/man1",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return exit.Usagef("%d arguments, want one: the folder to write to", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return writeMan(args[0], cmd.OutOrStdout()) },
	}
}

// writeMan writes the pages of all commands.
func writeMan(folder string, stdout io.Writer) error {
	var pages []files.File
	var add func(c *cobra.Command) error
	add = func(c *cobra.Command) error {
		page, err := manPage(c)
		if err != nil {
			return err
		}
		pages = append(pages, page)
		for _, below := range c.Commands() {
			if below.IsAvailableCommand() {
				if err := add(below); err != nil {
					return err
				}
			}
		}
		return nil
	}
	target, err := files.ToFolder("the folder", folder, nil)
	if err != nil {
		return err
	}
	if err := add(newRoot()); err != nil {
		return err
	}
	return target.WriteAll(pages, stdout)
}

// What the manual has for no date, and for a switch that is off.
const noDate, switchedOff = "Jan 0001", "[=false]"

// manPage is the page of a command. It changes the command, whose texts become the marked ones.
func manPage(c *cobra.Command) (files.File, error) {
	day := build.Time()
	header := doc.GenManHeader{Section: "1", Date: &day, Source: "lampswap " + build.Version(), Manual: "lampswap"}
	name := strings.ReplaceAll(c.CommandPath(), " ", "-")
	c.Long, c.DisableAutoGenTag = marked(aboutOf(c)), true
	var page bytes.Buffer
	if err := doc.GenMan(c, &header, &page); err != nil {
		return files.File{}, fmt.Errorf("manual of %s: %w", name, err)
	}
	text := strings.NewReplacer(noDate, "", switchedOff, "").Replace(page.String())
	return files.File{Name: name + "." + header.Section, Content: []byte(text)}, nil
}

// markSigns are those that Markdown takes for more than themselves.
var markSigns = regexp.MustCompile(`[*_\\<>#|]`)

// marked turns a help text into Markdown: what is set in stays as it is set, in lines of its own.
func marked(about string) string {
	var out []string
	before := false
	for line := range strings.SplitSeq(about, "\n") {
		in := strings.HasPrefix(line, " ")
		if in != before && line != "" {
			out, before = append(out, ""), in
		}
		switch {
		case line == "":
		case in:
			line = "    " + line
		default:
			line = markSigns.ReplaceAllString(line, `\$0`)
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}
