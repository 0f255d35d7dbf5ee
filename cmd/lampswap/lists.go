package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"

	"lampswap/photometry/catalog"
	"lampswap/photometry/levels"
)

func newLamps() *cobra.Command {
	return &cobra.Command{
		Use:     "lamps [WORD ...]",
		Short:   "List the lamps and what feeds them, with sources",
		Example: "  lampswap lamps\n  lampswap lamps F32T8",
		RunE: func(cmd *cobra.Command, args []string) error {
			return listLamps(cmd.OutOrStdout(), args)
		},
	}
}

func newLevels() *cobra.Command {
	return &cobra.Command{
		Use:     "levels [WORD ...]",
		Short:   "List or search the published levels, with sources",
		Example: "  lampswap levels\n  lampswap levels warehouse average",
		RunE: func(cmd *cobra.Command, args []string) error {
			return listLevels(cmd.OutOrStdout(), args)
		},
	}
}

func plainTable(header ...any) table.Writer {
	t := table.NewWriter()
	style := table.StyleLight
	style.Options = table.OptionsNoBordersAndSeparators
	style.Options.SeparateHeader = true
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	t.AppendHeader(header)
	return t
}

// holds tells whether every word turns up in the text, in any letter case.
func holds(text string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(w)) {
			return false
		}
	}
	return true
}

func listLamps(w io.Writer, words []string) error {
	t := plainTable("lamp", "watts", "initial lm", "mean lm", "life h", "lumens rest on")
	var found []catalog.Lamp
	for _, l := range catalog.Lamps() {
		if holds(l.Name+" "+l.Description, words) {
			found = append(found, l)
			t.AppendRow(table.Row{l.Name, known(l.RatedWatts), known(l.InitialLumens), known(l.MeanLumens), known(l.RatedLifeHours), text.WrapSoft(l.Confidence, 24)})
		}
	}
	if len(found) == 0 {
		return usageError{fmt.Errorf("no lamp has %q, want a part of a name of `lampswap lamps`", strings.Join(words, " "))}
	}
	fmt.Fprintln(w, t.Render())
	if len(words) == 0 {
		fmt.Fprintln(w, "\n`lampswap lamps NAME` shows what feeds a lamp, and the sources.")
		return nil
	}
	for _, l := range found {
		describeLamp(w, l)
	}
	return nil
}

func describeLamp(w io.Writer, l catalog.Lamp) {
	fmt.Fprintf(w, "\n%s: %s\n", text.Bold.Sprint(l.Name), l.Description)
	fmt.Fprintln(w, text.WrapSoft("  Source: "+l.Source, ledgerWidth))
	if l.Notes != "" {
		fmt.Fprintln(w, text.WrapSoft("  "+l.Notes, ledgerWidth))
	}
	t := plainTable("ballast", "lamps", "factor", "watts", "rest on")
	for n := 1; n <= 8; n++ {
		for _, b := range catalog.BallastsFor(l, n) {
			t.AppendRow(table.Row{b.Kind, fmt.Sprint(n), fmt.Sprintf("%.2f", b.BallastFactor), fmt.Sprintf("%.0f", b.InputWatts), b.Confidence})
		}
	}
	fmt.Fprintln(w, t.Render())
}

func known(x float64) string {
	if x == 0 || math.IsNaN(x) {
		return "-"
	}
	return fmt.Sprintf("%g", x)
}

func listLevels(w io.Writer, words []string) error {
	found := levels.Search(strings.Join(words, " "))
	if len(found) == 0 {
		return usageError{fmt.Errorf("no level has %q, want words of its id, its space or its source", strings.Join(words, " "))}
	}
	t := plainTable("level", "asks", "on", "standing")
	for _, l := range found {
		t.AppendRow(table.Row{l.ID, asks(l), l.Plane, l.LegalStatus})
	}
	fmt.Fprintln(w, t.Render())
	for _, l := range found {
		if len(found) > 12 {
			fmt.Fprintln(w, "\nSearch with a word or two to read the sources: lampswap levels warehouse washington")
			return nil
		}
		fmt.Fprintf(w, "\n%s: %s\n", text.Bold.Sprint(l.ID), l.Space)
		fmt.Fprintln(w, text.WrapSoft("  Source: "+l.Citation(), ledgerWidth))
		if c := l.Caveat(); c != "" {
			fmt.Fprintln(w, text.WrapSoft("  "+c, ledgerWidth))
		}
	}
	return nil
}

// asks lists a level's tests in the unit in which it was published, in fc where in both.
func asks(l levels.Level) string {
	var all []string
	for _, c := range l.Criteria(true) {
		sign := "<="
		if c.AtLeast {
			sign = ">="
		}
		all = append(all, strings.TrimSpace(fmt.Sprintf("%s %s%.4g %s", strings.ReplaceAll(c.Statistic.String(), "_", " "), sign, c.Required, c.Unit)))
	}
	return strings.Join(all, "\n")
}
