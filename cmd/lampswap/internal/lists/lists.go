// Package lists shows what there is to choose from: lamps with their ballasts, and published levels, with their sources.
package lists

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/catalog"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
)

// holds tells whether every word turns up in the text, in any letter case.
func holds(text string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(w)) {
			return false
		}
	}
	return true
}

// perhaps names what is nearest to the first word that is near to anything.
func perhaps(words, known []string) string {
	for _, w := range words {
		if near := exit.Perhaps(w, known); near != "" {
			return near
		}
	}
	return ""
}

// parts are the names and what they consist of: F32T8/800 is of F32T8 and 800.
func parts(names []string) []string {
	all := slices.Clone(names)
	for _, name := range names {
		all = append(all, strings.FieldsFunc(name, func(r rune) bool { return r == '/' || r == '-' })...)
	}
	return all
}

// Lamps lists the lamps that have all the words, and with words the ballasts of each.
func Lamps(w io.Writer, words []string) error {
	t := terminal.Table("lamp", "rated W", "initial lm", "mean lm", "life h", "lumens rest on")
	var found []catalog.Lamp
	for _, l := range catalog.Lamps() {
		if holds(l.Name+" "+l.Description, words) {
			found = append(found, l)
			t.AppendRow(table.Row{l.Name, known(l.RatedWatts), known(l.InitialLumens), known(math.Round(l.Mean())), known(l.RatedLifeHours), text.WrapSoft(standingOf(l.ConfidenceWords()), lumensWidth)})
		}
	}
	if len(found) == 0 {
		return exit.Usagef("no lamp has %q%s, want a part of a name of `lampswap lamps`", strings.Join(words, " "), perhaps(words, parts(catalog.LampNames())))
	}
	fmt.Fprintln(w, terminal.Trimmed(t.Render()))
	if len(words) == 0 {
		fmt.Fprintln(w, "\n`lampswap lamps NAME` shows the ballasts of a lamp, and the sources.")
		return nil
	}
	for _, l := range found {
		describeLamp(w, l)
	}
	return nil
}

func describeLamp(w io.Writer, l catalog.Lamp) {
	terminal.Paragraph(w, text.Bold.Sprint(l.Name)+": "+l.Words(), initialFrom(l), "Source: "+l.Source, l.Notes)
	fmt.Fprintln(w)
	t := terminal.Table("ballast", "lamps", "factor", "input W", "rest on")
	for n := 1; n <= 8; n++ {
		for _, b := range catalog.BallastsFor(l, n) {
			kind := b.Kind
			if len(b.Parts) > 1 {
				kind += ",\n  " + b.Set()
			}
			t.AppendRow(table.Row{kind, fmt.Sprint(n), fmt.Sprintf("%.2f", b.BallastFactor), number.Thousands(b.InputWatts), text.WrapSoft(standingOf(b.ConfidenceWords()), confidenceWidth)})
		}
	}
	fmt.Fprintln(w, terminal.Trimmed(t.Render()))
}

// initialFrom says of what range the initial lumens are the middle, where one is known.
func initialFrom(l catalog.Lamp) string {
	if from := l.InitialFrom(); from != "" {
		return "Initial lumens: " + from + "."
	}
	return ""
}

// The widths of the columns that say what numbers rest on, of a lamp and of a ballast.
const (
	lumensWidth     = 18
	confidenceWidth = 30
)

// standingOf says how sure a value is, in a column that has a word for those that were seen in a public source too.
func standingOf(words string) string {
	if words == "" {
		return "published"
	}
	return words
}

func known(x float64) string {
	if x == 0 || math.IsNaN(x) {
		return "-"
	}
	if x >= 1000 {
		return number.Thousands(x)
	}
	return fmt.Sprintf("%g", x)
}

// fewLevels are shown with their sources.
const fewLevels = 12

// levelMarks stand behind a level in the list; in this order.
const levelMarks = "S superseded by a later edition; 2 quoted second-hand; M from memory, unverified: never take it as published"

// Levels lists the published levels that have all the words, a few of them with their sources.
func Levels(w io.Writer, words []string) error {
	found, space := about(levels.Search(strings.Join(words, " ")), words)
	if space != nil {
		describeSpace(w, *space)
		if len(found) == 0 {
			terminal.Paragraph(w, "No published level about such a space is listed, which does not show that none binds.")
			return nil
		}
		fmt.Fprintln(w)
	}
	if len(found) == 0 {
		return exit.Usagef("no level has %q%s, want words of its id, its space or its source", strings.Join(words, " "), perhaps(words, parts(levels.Names())))
	}
	t := terminal.Table("level", "required", "on", "standing", "")
	for _, l := range found {
		t.AppendRow(table.Row{l.ID, strings.NewReplacer("average to minimum", "avg/min", "maximum to minimum", "max/min").Replace(Requires(l, true)), l.Plane, standing(l.LegalStatus), signsOf(l)})
	}
	fmt.Fprintf(w, "%s\n\n%s\n", terminal.Trimmed(t.Render()), terminal.Trimmed(text.WrapSoft(levelMarks+".", terminal.Width)))
	if joined := groups(found); joined != "" {
		fmt.Fprintln(w, terminal.Trimmed(text.WrapSoft("One name for all the tests of a rule: "+joined+".", terminal.Width)))
	}
	if len(found) > fewLevels {
		fmt.Fprintf(w, "To read the sources, name a level or add a word:\n  lampswap levels %s\n", found[0].ID)
	} else {
		for _, l := range found {
			terminal.Paragraph(w, text.Bold.Sprint(l.ID)+": "+l.Space, l.LegalStatus+". Source: "+l.Citation(), l.Caveat())
		}
	}
	if len(words) == 0 {
		fmt.Fprintf(w, "\n%s\n", text.Bold.Sprint("Which rule binds where"))
		for _, rule := range levels.Rules() {
			terminal.Paragraph(w, rule.Place, rule.Says+" Level: "+rule.Level+". Source: "+rule.Source+".")
		}
	}
	return nil
}

// groups names the rules of which several rows were found.
func groups(found []levels.Level) string {
	var names []string
	for i, l := range found {
		if l.Group != l.ID && i > 0 && found[i-1].Group == l.Group && !slices.Contains(names, l.Group) {
			names = append(names, l.Group)
		}
	}
	return strings.Join(names, ", ")
}

// standing is the legal status in a word; the whole of it stands with each level.
func standing(status string) string {
	for _, short := range [][2]string{{"consensus standard", "standard"}, {"contract", "contract"}, {"recommendation", "advice"}, {"workplace", "work rule"}, {"model code", "model code"}} {
		if strings.HasPrefix(status, short[0]) {
			return short[1]
		}
	}
	return status
}

func signsOf(l levels.Level) string {
	var all []string
	if l.Superseded() {
		all = append(all, "S")
	}
	switch {
	case l.FromMemory():
		all = append(all, "M")
	case l.Confidence == "seen-secondhand":
		all = append(all, "2")
	}
	return strings.Join(all, " ")
}

// Requires lists a level's tests in the unit in which it was published; where in both, in the one that is asked for.
func Requires(l levels.Level, imperial bool) string {
	var all []string
	for _, c := range l.Criteria(imperial) {
		sign := "<="
		if c.AtLeast {
			sign = ">="
		}
		all = append(all, strings.TrimSpace(fmt.Sprintf("%s %s%.4g %s", c.Statistic.Words(), sign, c.Required, c.Unit)))
	}
	return strings.Join(all, "\n")
}
