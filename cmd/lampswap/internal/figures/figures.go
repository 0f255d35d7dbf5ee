// Package figures answers which figures a result makes: maps of its grids and charts of the whole job. It adapts results to package plots.
package figures

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"

	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/study"
	"lampswap/plots"
)

// A Named is a figure with the name of its file, which has no ending.
type Named struct {
	Name   string
	Figure plots.Figure
}

// All are all the figures of a result.
func All(r *study.Result) []Named {
	var all []Named
	for i, g := range r.Existing().Grids {
		sheet, name := LightSheet(r, i), FileName(i, g.Name)
		all = append(all, Named{name, sheet})
		for k := range sheet.Maps {
			all = append(all, Named{name + "-" + MapNames[k], alone(r, sheet, k)})
		}
	}
	return append(all, charts(r)...)
}

// Draw draws figures in all the formats, with what made them in the files.
func Draw(ctx context.Context, figures []Named, formats []string, widthIn float64, from origin.Origin) ([]files.File, error) {
	var drawings []files.File
	for _, f := range figures {
		for _, format := range formats {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			var b bytes.Buffer
			if err := Write(&b, f.Figure, format, vg.Length(widthIn)*vg.Inch, from); err != nil {
				return nil, err
			}
			drawings = append(drawings, files.File{Name: f.Name + "." + format, Content: b.Bytes()})
		}
	}
	return drawings, nil
}

// mostNamed is how many characters a sentence names.
const mostNamed = 12

// Undrawn says which characters in the texts of what is to be drawn, however deep, have no letters there; "" if all have.
func Undrawn(drawn any) string {
	missing := plots.Missing(drawn)
	if len(missing) == 0 {
		return ""
	}
	var named []string
	for _, r := range missing[:min(len(missing), mostNamed)] {
		named = append(named, fmt.Sprintf("%c (U+%04X)", r, r))
	}
	text := "drawings and PDF pages have no letters for " + strings.Join(named, ", ")
	if more := len(missing) - len(named); more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text + "; there the code points stand in brackets"
}

// Write writes a figure at its own height, with what made it in the file.
func Write(w io.Writer, f plots.Figure, format string, width vg.Length, from origin.Origin) error {
	return plots.WriteFrom(w, f, format, width, 0, SourceOf(from))
}

// SourceOf is an origin as the files of figures hold it.
func SourceOf(from origin.Origin) plots.Source {
	return plots.Source{Program: from.Program(), Inputs: from.Inputs()}
}

// charts are the figures that are no maps: light through the years, what each system costs, and what makes the prediction uncertain, as
// far as the job gives what they need.
func charts(r *study.Result) []Named {
	years := Years(r)
	years.Title, years.Subtitle = r.Job.Title, "Light through the years, from new lamps and clean surfaces on"
	all := []Named{{"light-through-the-years", years}}
	if cash, ok := Cash(r); ok {
		cash.Title, cash.Subtitle = r.Job.Title, fmt.Sprintf("Life-cycle cost over %d years", r.LifeCycle.Terms.Years)
		all = append(all, Named{"life-cycle-cost", cash})
	}
	if r.Uncertainty != nil {
		doubt := Doubt(r)
		doubt.Title, doubt.Subtitle = r.Job.Title, "What makes the prediction uncertain"
		all = append(all, Named{"uncertainty", doubt})
	}
	if glare, ok := Glare(r); ok {
		glare.Title, glare.Subtitle = r.Job.Title, "Glare by observer and direction"
		all = append(all, Named{"glare", glare})
	}
	return all
}

// FileName is a grid's name with nothing in it that a file system minds, numbered so that two never meet.
func FileName(i int, name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return fmt.Sprintf("%02d-%s", i+1, strings.Trim(b.String(), "-"))
}
