package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/export"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

type checkOptions struct {
	format string
	points bool
	output string // file; "" is stdout
	grid   string // whose points --format csv writes

	full, quiet bool
	uncertainty bool
	space       string
	demo        string
}

func newCheck() *cobra.Command {
	opts := checkOptions{}
	cmd := &cobra.Command{
		Use:   "check [JOB.toml | BUILDING.toml]",
		Short: "Light before and after the swap, against the criteria",
		Long: `check prints the verdict, the criteria, light, load and money, existing and
proposed; with --full all that is known: the before-and-after ledger by two
methods, what it rests on, and the verdict once more at the end.
Without a job file it takes the built-in demonstration job; - is a job from
standard input, whose files are looked for in the current folder. This holds for
options, plot, proposal, stations and verify too. No --output may be a file that
the command reads. Exit code 0: every criterion is met by the proposed lighting;
1: one is missed; 2: the input is wrong; 3: something else failed.

Of a building (a file with [[spaces]], each a room in place or the path of a
job) it prints the table of its spaces, the totals, the money of the whole and the
take-off; --space NAME shows one space in full. Exit code 1: a space misses one.

This answer and every other says which version made it and what from: the last
line begins the SHA-256 digest of the job file and all files that it names, and
JSON, CSV, spreadsheets, figures and documents hold the whole of it.`,
		Example: `  lampswap check
  lampswap check --full
  lampswap check --demo building
  lampswap new dock.toml
  lampswap check dock.toml
  lampswap check - < dock.toml
  lampswap check --format json --points dock.toml
  lampswap check --format xlsx --output dock.xlsx dock.toml
  lampswap check --format csv --grid "work plane" dock.toml`,
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return check(cmd.Context(), opts, args, streamsOf(cmd))
		},
	}
	demoFlag(cmd, &opts.demo)
	spaceFlag(cmd, &opts.space)
	cmd.Flags().StringVar(&opts.format, "format", "text", "text, json, csv or xlsx")
	cmd.Flags().BoolVar(&opts.full, "full", false, "all that is known, in place of what fits a terminal")
	cmd.Flags().BoolVarP(&opts.quiet, "quiet", "q", false, "the verdict alone")
	cmd.Flags().StringVarP(&opts.output, "output", "o", "", "file to write in place of standard output; xlsx needs one")
	cmd.Flags().StringVar(&opts.grid, "grid", "", "with --format csv: the points of this grid, such as \"work plane\", in place of the ledger")
	cmd.Flags().BoolVar(&opts.points, "points", false, "with --format json: every grid point too")
	cmd.Flags().BoolVar(&opts.uncertainty, "uncertainty", false, "how far the light may be from the prediction, by a Monte Carlo over the job's [uncertainty]")
	return cmd
}

func check(ctx context.Context, opts checkOptions, args []string, std streams) error {
	if err := opts.valid(); err != nil {
		return err
	}
	asked, err := jobs.Request{Args: args, Demo: opts.demo, Space: opts.space, In: std.in, Err: std.err}.Open(ctx)
	if err != nil {
		return err
	}
	if asked.Building != nil {
		return opts.building(ctx, asked.Building, args, std)
	}
	j := asked.Job
	target, err := files.ToFile("--output", opts.output, jobs.Inputs(j, args))
	if err != nil {
		return err
	}
	if err := opts.fits(j); err != nil {
		return err
	}
	j.Uncertainty.Asked = j.Uncertainty.Asked || opts.uncertainty
	result, err := runStudy(ctx, j, std.err)
	if err != nil {
		return err
	}
	return opts.deliver(target, std, result.Stands(), func(out *bytes.Buffer) error { return opts.write(out, result) })
}

// building answers for a building.
func (o checkOptions) building(ctx context.Context, b *building.Building, args []string, std streams) error {
	if o.grid != "" {
		return exit.Usagef("--grid is of one room, and this is a building: --space NAME too, one of %q", b.Names())
	}
	target, err := files.ToFile("--output", o.output, jobs.InputsOf(b.InputNames, args))
	if err != nil {
		return err
	}
	for _, s := range b.Spaces {
		s.Job.Uncertainty.Asked = s.Job.Uncertainty.Asked || o.uncertainty
	}
	r, err := runBuilding(ctx, b, std.err)
	if err != nil {
		return err
	}
	return o.deliver(target, std, r.Stands(), func(out *bytes.Buffer) error {
		switch o.format {
		case "json":
			return answer.WriteBuilding(out, r, o.points)
		case "csv":
			return export.BuildingCSV(out, r)
		case "xlsx":
			return export.BuildingXLSX(out, r)
		}
		word, sentence := ledger.BuildingAnswer(r)
		o.text(out, word, sentence, func() { ledger.WriteBuilding(out, r) }, func() { ledger.WriteBuildingShort(out, r) })
		return nil
	})
}

// deliver writes an answer where it is asked for, and tells whether every criterion is met.
func (o checkOptions) deliver(target files.Target, std streams, met bool, write func(*bytes.Buffer) error) error {
	var out bytes.Buffer
	if err := write(&out); err != nil {
		return err
	}
	if err := deliverFile(out.Bytes(), target, std.out); err != nil {
		return err
	}
	if !met {
		return exit.ErrNotMet
	}
	return nil
}

// formats are those that check writes.
var formats = []string{"text", "json", "csv", "xlsx"}

// valid refuses flags that do not go together.
func (o checkOptions) valid() error {
	switch {
	case !slices.Contains(formats, o.format):
		return exit.Usagef("--format is %q, want one of %s", o.format, strings.Join(formats, ", "))
	case (o.full || o.quiet) && o.format != "text":
		return exit.Usagef("--full and --quiet go with --format text")
	case o.full && o.quiet:
		return exit.Usagef("--full and --quiet: want one of the two")
	case o.points && o.format != "json":
		return exit.Usagef("--points goes with --format json")
	case o.grid != "" && o.format != "csv":
		return exit.Usagef("--grid goes with --format csv")
	case o.format == "xlsx" && o.output == "":
		return exit.Usagef("--format xlsx needs --output, the file to write")
	}
	return nil
}

// fits refuses a grid that the job does not have, and grids too large for the format.
func (o checkOptions) fits(j *job.Job) error {
	if o.format == "xlsx" {
		if err := export.Fits(j); err != nil {
			return exit.Usage(err)
		}
	}
	if names := export.GridNames(j); o.grid != "" && !slices.Contains(names, o.grid) {
		return exit.Usagef("--grid is %q, want one of %q", o.grid, names)
	}
	return nil
}

// write writes the result in the format that is asked for.
func (o checkOptions) write(w *bytes.Buffer, r *study.Result) error {
	switch {
	case o.format == "json":
		return answer.Write(w, r, o.points)
	case o.format == "xlsx":
		return export.XLSX(w, r)
	case o.grid != "":
		return export.GridCSV(w, r, slices.Index(export.GridNames(r.Job), o.grid))
	case o.format == "csv":
		return export.LedgerCSV(w, r)
	}
	word, sentence := ledger.Answer(r)
	o.text(w, word, sentence, func() { ledger.Write(w, r) }, func() { ledger.WriteShort(w, r) })
	return nil
}

// text writes as much for a terminal as is asked for.
func (o checkOptions) text(w io.Writer, word, sentence string, full, short func()) {
	switch {
	case o.quiet:
		ledger.WriteVerdict(w, word, sentence)
	case o.full:
		full()
	default:
		short()
	}
}

// deliverFile puts the result into the file that is asked for and names it on stdout, else writes it there.
func deliverFile(content []byte, target files.Target, stdout io.Writer) error {
	if !target.Asked() {
		_, err := stdout.Write(content)
		return err
	}
	if err := target.Write(content); err != nil {
		return err
	}
	fmt.Fprintln(stdout, target)
	return nil
}
