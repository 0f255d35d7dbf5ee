package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"gonum.org/v1/plot/vg"

	"lampswap/photometry/job"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/plots"
)

type plotOptions struct {
	output  string
	formats []string
	widthIn float64
}

func newPlot() *cobra.Command {
	opts := plotOptions{}
	cmd := &cobra.Command{
		Use:   "plot [JOB.toml] --output DIR",
		Short: "Light maps to attach to a proposal: existing, proposed and change",
		Long: `plot draws every grid of the job as filled contours with labelled lines:
existing and proposed on one scale, the change between them, and all three on
one sheet; and charts: light through the years, life-cycle cost and what makes
the prediction uncertain, as far as the job gives what they need. Without a job
file it takes the built-in demonstration job. The names of the files that were
written go to standard output.`,
		Example: "  lampswap plot --output maps\n  lampswap plot dock.toml --output maps --formats pdf",
		Args:    atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return plot(cmd.Context(), opts, args, cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	cmd.Flags().StringVarP(&opts.output, "output", "o", "", "folder to write to; made if it is not there (required)")
	cmd.Flags().StringSliceVar(&opts.formats, "formats", plots.Formats, "which of png, svg, pdf")
	cmd.Flags().Float64Var(&opts.widthIn, "width", 7.5, "width of a figure, inches")
	return cmd
}

// A drawing is one file to be written, whole in memory before any is.
type drawing struct {
	name  string
	bytes []byte
}

func plot(ctx context.Context, opts plotOptions, args []string, stdout, stderr io.Writer) error {
	if opts.output == "" {
		return usageError{errors.New("--output is missing, want the folder to write the maps to")}
	}
	for _, f := range opts.formats {
		if !slices.Contains(plots.Formats, f) {
			return usageError{fmt.Errorf("--formats has %q, want some of %s", f, strings.Join(plots.Formats, ", "))}
		}
	}
	if !(opts.widthIn >= 3 && opts.widthIn <= 40) {
		return usageError{fmt.Errorf("--width is %g, want 3 to 40 inches", opts.widthIn)}
	}
	j, err := readJob(args)
	if err != nil {
		return err
	}
	result, err := runStudy(ctx, j, stderr)
	if err != nil {
		return err
	}
	drawings, err := draw(ctx, result, opts)
	if err != nil {
		return err
	}
	return writeAll(opts.output, drawings, stdout)
}

// draw makes all the figures in all the formats.
func draw(ctx context.Context, r *study.Result, opts plotOptions) ([]drawing, error) {
	var drawings []drawing
	write := func(name string, figure plots.Figure) error {
		for _, format := range opts.formats {
			if err := ctx.Err(); err != nil {
				return err
			}
			var b bytes.Buffer
			if err := plots.Write(&b, figure, format, vg.Length(opts.widthIn)*vg.Inch, 0); err != nil {
				return err
			}
			drawings = append(drawings, drawing{name + "." + format, b.Bytes()})
		}
		return nil
	}
	for i, g := range r.Existing.Grids {
		sheet, name := lightSheet(r, i), fileName(i, g.Name)
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

// A chart is a figure of the whole job.
type chart struct {
	name   string
	figure plots.Figure
}

// charts are the figures that are no maps: light through the years, what each way costs, and what makes the prediction uncertain, as
// far as the job gives what they need.
func charts(r *study.Result) []chart {
	years := yearsChart(r)
	years.Title, years.Subtitle = r.Job.Title, "Light through the years, from new lamps and clean surfaces on"
	all := []chart{{"light-through-the-years", years}}
	if cash, ok := cashChart(r); ok {
		cash.Title, cash.Subtitle = r.Job.Title, fmt.Sprintf("Life-cycle cost over %d years", r.LifeCycle.Terms.Years)
		all = append(all, chart{"life-cycle-cost", cash})
	}
	if r.Uncertainty != nil {
		doubt := doubtChart(r)
		doubt.Title, doubt.Subtitle = r.Job.Title, "What makes the prediction uncertain"
		all = append(all, chart{"uncertainty", doubt})
	}
	return all
}

// fileName is a grid's name with nothing in it that a file system minds, numbered so that two never meet.
func fileName(i int, name string) string {
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

// leastChange is the share of the existing average that the scale of a change map reaches at least, so that a trifle does not look like a change.
const leastChange = 0.05

// lightSheet is the existing, the proposed and the change map of a grid on one sheet.
func lightSheet(r *study.Result, i int) plots.Sheet {
	e, p := r.Existing.Grids[i], r.Proposed.Grids[i]
	change := plots.Difference(e.Maintained, p.Maintained)
	sheet := plots.Sheet{Title: r.Job.Title, Subtitle: fmt.Sprintf("Maintained illuminance, %s", e.Name)}
	sheet.Maps = []plots.Map{lightMap(r, e, e.Maintained, r.Job.Existing), lightMap(r, e, p.Maintained, r.Job.Proposed), lightMap(r, e, change, r.Job.Proposed)}
	for m, title := range []string{"Existing", "Proposed", "Change, proposed less existing"} {
		sheet.Maps[m].Title = title
	}
	least := leastChange * e.Statistics.Average
	sheet.Maps[2].Change, sheet.Maps[2].Levels = true, plots.ChangeLevels(r.Job.Imperial, change, []float64{-least, least})
	sheet.Maps[0].Levels = plots.Levels(r.Job.Imperial, e.Maintained, p.Maintained)
	sheet.Maps[1].Levels = sheet.Maps[0].Levels
	return sheet
}

// alone is one map of a sheet as a figure of its own.
func alone(r *study.Result, sheet plots.Sheet, i int) plots.Map {
	m := sheet.Maps[i]
	m.Subtitle = sheet.Subtitle + ": " + strings.ToLower(m.Title[:1]) + m.Title[1:]
	m.Title = r.Job.Title
	return m
}

// lightMap is a map of values on a grid, with what hangs and stands there; on emergency power with the luminaires that burn.
func lightMap(r *study.Result, g study.Grid, lux []float64, s job.System) plots.Map {
	m := plots.NewMap(g.Grid, lux)
	m.Imperial = r.Job.Imperial
	if g.Plane == room.Vertical {
		return m
	}
	m.NorthDeg = northDeg(r.Job)
	burns := func(i int) bool { return !g.Emergency || slices.Contains(r.Job.Egress.Luminaires, i) }
	m.Luminaires, m.Racks = marksOf(s, m.Extent, burns), racksOf(r.Job, m.Extent)
	return m
}

// northDeg is the azimuth of north in the plan, degrees; nil if the job does not say.
func northDeg(j *job.Job) *float64 {
	if j.Facts.North == nil {
		return nil
	}
	degrees := *j.Facts.North * 180 / math.Pi
	return &degrees
}

// marksOf are the luminaires of a system that hang over the extent of a plan and that burn.
func marksOf(s job.System, extent plots.Rect, burns func(i int) bool) []plots.Mark {
	var marks []plots.Mark
	for i, p := range s.Layout.Placements {
		if o := s.Luminaire.Opening; burns(i) && within(p.Position.X, p.Position.Y, extent) {
			marks = append(marks, plots.Mark{X: p.Position.X, Y: p.Position.Y, Length: o.Length, Width: o.Width, Rotation: p.Rotation})
		}
	}
	return marks
}

// racksOf are the parts of the racks that stand within the extent of a plan.
func racksOf(j *job.Job, extent plots.Rect) []plots.Rect {
	var racks []plots.Rect
	for _, rack := range j.Racks {
		if far := rack.Far(); rack.Corner.X < extent.X1 && rack.Corner.Y < extent.Y1 && far.X > extent.X0 && far.Y > extent.Y0 {
			racks = append(racks, plots.Rect{X0: max(rack.Corner.X, extent.X0), Y0: max(rack.Corner.Y, extent.Y0),
				X1: min(far.X, extent.X1), Y1: min(far.Y, extent.Y1)})
		}
	}
	return racks
}

// within tells whether a place lies on the map.
func within(x, y float64, e plots.Rect) bool { return x >= e.X0 && x <= e.X1 && y >= e.Y0 && y <= e.Y1 }

// writeAll writes every drawing under a temporary name before it gives any its own, so that a failure leaves no half of a file.
func writeAll(folder string, drawings []drawing, stdout io.Writer) (err error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	var temporary []string
	defer func() {
		for _, name := range temporary {
			_ = os.Remove(name) // gone already where it was renamed
		}
	}()
	for _, d := range drawings {
		name, err := writeTemporary(folder, d.bytes)
		if err != nil {
			return err
		}
		temporary = append(temporary, name)
	}
	for i, d := range drawings {
		path := filepath.Join(folder, d.name)
		if err := os.Rename(temporary[i], path); err != nil {
			return err
		}
		fmt.Fprintln(stdout, path)
	}
	return syncFolder(folder)
}
