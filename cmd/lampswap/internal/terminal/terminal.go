// Package terminal sets text for a reader at a terminal: lines of at most 80 columns, tables, lists, and how far the work is.
package terminal

import (
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// Width is the width that every line keeps within.
const Width = 80

// List writes a heading and wrapped items, or nothing at all.
func List(w io.Writer, heading string, items []string) {
	if len(items) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s\n", text.Bold.Sprint(heading))
	for _, item := range items {
		wrapped := text.WrapSoft(item, Width-4)
		fmt.Fprintf(w, "  - %s\n", strings.ReplaceAll(Trimmed(wrapped), "\n", "\n    "))
	}
}

// Trimmed takes the blanks off the ends of lines, and the blank before each that the table style puts there.
func Trimmed(rendered string) string {
	lines := strings.Split(rendered, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(strings.TrimPrefix(line, " "), " ")
	}
	return strings.Join(lines, "\n")
}

// rule is what tables draw below their header.
const rule = "─"

// Flushed takes the blanks off the ends of lines, and the place of such a blank off the rule below the header.
func Flushed(rendered string) string {
	lines := strings.Split(rendered, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
		if strings.HasPrefix(line, rule) {
			lines[i] = strings.TrimSuffix(line, rule)
		}
	}
	return strings.Join(lines, "\n")
}

// Table begins a table without borders, below its header.
func Table(header ...any) table.Writer {
	t := table.NewWriter()
	style := table.StyleLight
	style.Options = table.OptionsNoBordersAndSeparators
	style.Options.SeparateHeader = true
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	t.AppendHeader(header)
	return t
}

// Paragraph writes a line and, set in below it, texts that are wrapped; blank ones are left out.
func Paragraph(w io.Writer, head string, texts ...string) {
	fmt.Fprintf(w, "\n%s\n", Flushed(text.WrapSoft(head, Width)))
	for _, t := range texts {
		if t != "" {
			fmt.Fprintf(w, "  %s\n", strings.ReplaceAll(Trimmed(text.WrapSoft(t, Width-2)), "\n", "\n  "))
		}
	}
}

// Quiet writes a last line that is there for whoever looks for it.
func Quiet(w io.Writer, line string) { fmt.Fprintf(w, "\n%s\n", text.Faint.Sprint(line)) }

// Hung sets a text in behind a name, on more lines if it takes them.
func Hung(name, words string) string {
	indent := utf8.RuneCountInString(name)
	return name + strings.ReplaceAll(Flushed(text.WrapSoft(words, Width-indent)), "\n", "\n"+strings.Repeat(" ", indent))
}

// SetColors leaves bold text to terminals whose user has not asked for plain text.
func SetColors(stdout io.Writer) {
	if takesEscapes(stdout) {
		text.EnableColors()
		return
	}
	text.DisableColors()
}

// takesEscapes tells whether bold text and progress may be written there: to a terminal, unless NO_COLOR holds anything or TERM says that
// it cannot show them.
func takesEscapes(w io.Writer) bool {
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isTerminal(w)
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
