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

// All makes all the figures in all the formats.
func All(ctx context.Context, r *study.Result, formats []string, widthIn float64) ([]files.File, error) {
	var drawings []files.File
	from := origin.Of(r.Job.InputsDigest)
	write := func(name string, figure plots.Figure) error {
		for _, format := range formats {
			if err := ctx.Err(); err != nil {
				return err
			}
			var b bytes.Buffer
			if err := Write(&b, figure, format, vg.Length(widthIn)*vg.Inch, from); err != nil {
				return err
			}
			drawings = append(drawings, files.File{Name: name + "." + format, Content: b.Bytes()})
		}
		return nil
	}
	for i, g := range r.Existing.Grids {
		sheet, name := LightSheet(r, i), FileName(i, g.Name)
		figures := []plots.Figure{sheet, alone(r, sheet, 0), alone(r, sheet, 1), alone(r, sheet, 2)}
		for m, suffix := range []string{"", "-existing", "-proposed", "-change"} {
			if err := write(name+suffix, figures[m]); err != nil {
				return nil, err
			}
		}
	}
	for _, c := range charts(r) {
		if err := write(c.name, c.figure); err != nil {
			return nil, err
		}
	}
	return drawings, nil
}

// Write writes a figure at its own height, with what made it in the file.
func Write(w io.Writer, f plots.Figure, format string, width vg.Length, from origin.Origin) error {
	return plots.WriteFrom(w, f, format, width, 0, SourceOf(from))
}

// SourceOf is an origin as the files of figures hold it.
func SourceOf(from origin.Origin) plots.Source {
	return plots.Source{Program: from.Program(), Inputs: from.Inputs()}
}

// A chart is a figure of the whole job.
type chart struct {
	name   string
	figure plots.Figure
}

// charts are the figures that are no maps: light through the years, what each system costs, and what makes the prediction uncertain, as
// far as the job gives what they need.
func charts(r *study.Result) []chart {
	years := Years(r)
	years.Title, years.Subtitle = r.Job.Title, "Light through the years, from new lamps and clean surfaces on"
	all := []chart{{"light-through-the-years", years}}
	if cash, ok := Cash(r); ok {
		cash.Title, cash.Subtitle = r.Job.Title, fmt.Sprintf("Life-cycle cost over %d years", r.LifeCycle.Terms.Years)
		all = append(all, chart{"life-cycle-cost", cash})
	}
	if r.Uncertainty != nil {
		doubt := Doubt(r)
		doubt.Title, doubt.Subtitle = r.Job.Title, "What makes the prediction uncertain"
		all = append(all, chart{"uncertainty", doubt})
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
