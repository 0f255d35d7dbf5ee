package main

import (
	"context"
	"errors"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/options"
)

type proposalOptions struct {
	output, paper, date string
	options             bool
	space               string
}

func newProposal() *cobra.Command {
	opts := proposalOptions{}
	cmd := &cobra.Command{
		Use:   "proposal [JOB.toml] --output FILE.pdf|FILE.html",
		Short: "Pages to attach to a proposal: verdict, ledger, light maps, sources",
		Long: `proposal writes one document, as PDF or as one HTML file that needs nothing
else: the verdict in plain words, the before-and-after ledger, light maps of
every grid, where the luminaires send their light, light through the years,
other lamps for the same fixtures, money, the assumptions and defaults in full,
sources, cautions, and how it was computed. Without a job file it takes the
built-in demonstration job. The name of the file goes to standard output. Of a
building it tells the whole first, then the schedule and the take-off, then each
space with its maps.

The job file may say date, prepared_by, prepared_for and north. Without a date
in the job or in --date the document has none. Exit code 0: every criterion is
met by the proposed lighting; 1: the document is written, and one is missed; 2: the
input is wrong; 3: something else failed.`,
		Example: `  lampswap proposal --output harbour-lane.pdf
  lampswap new dock.toml
  lampswap proposal dock.toml --output dock.html --date 2026-04-30
  lampswap proposal dock.toml --output dock.pdf --paper a4`,
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return writeProposal(cmd.Context(), opts, args, streamsOf(cmd))
		},
	}
	spaceFlag(cmd, &opts.space)
	f := cmd.Flags()
	f.StringVarP(&opts.output, "output", "o", "", "file to write, .pdf or .html (required)")
	f.StringVar(&opts.paper, "paper", "", "letter or a4 (default letter for a job in feet, a4 for one in meters)")
	f.StringVar(&opts.date, "date", "", "date of the document, YYYY-MM-DD, in place of the job's")
	f.BoolVar(&opts.options, "options", true, "tell of other lamps and ballasts for the same fixtures")
	return cmd
}

func writeProposal(ctx context.Context, opts proposalOptions, args []string, std streams) error {
	write := proposal.Writers[strings.ToLower(filepath.Ext(opts.output))]
	switch {
	case opts.output == "":
		return exit.Usage(errors.New("--output is missing, want a file that ends in .pdf or .html"))
	case write == nil:
		return exit.Usagef("--output is %q, want a file that ends in .pdf or .html", opts.output)
	case opts.paper != "" && document.Papers[opts.paper] == (document.Paper{}):
		return exit.Usagef("--paper is %q, want one of %s", opts.paper, strings.Join(slices.Sorted(maps.Keys(document.Papers)), ", "))
	}
	asked, err := jobs.Request{Args: args, Space: opts.space, In: std.in, Err: std.err}.Open(ctx)
	if err != nil {
		return err
	}
	if asked.Building != nil {
		return opts.building(ctx, asked.Building, args, write, std)
	}
	j := asked.Job
	target, err := files.ToFile("--output", opts.output, jobs.Inputs(j, args))
	if err != nil {
		return err
	}
	if err := opts.dated(j); err != nil {
		return err
	}
	result, err := runStudy(ctx, j, std.err)
	if err != nil {
		return err
	}
	var others *options.Options
	if opts.options && j.OneKind() {
		others, err = terminal.ShowProgress(std.err, func(p lighting.Progress) (*options.Options, error) { return options.Find(ctx, j, options.Narrow{}, p) })
		if err != nil {
			return err
		}
	}
	return opts.deliver(ctx, proposal.Of(result, others), write, target, j, result.Met(), std)
}

// building writes the proposal of a building.
func (o proposalOptions) building(ctx context.Context, b *building.Building, args []string, write proposal.Writer, std streams) error {
	target, err := files.ToFile("--output", o.output, jobs.InputsOf(b.InputNames, args))
	if err != nil {
		return err
	}
	if err := o.dated(b.Whole); err != nil {
		return err
	}
	for _, s := range b.Spaces {
		s.Job.Facts.Date = b.Whole.Facts.Date
	}
	r, err := runBuilding(ctx, b, std.err)
	if err != nil {
		return err
	}
	return o.deliver(ctx, proposal.OfBuilding(r), write, target, b.Whole, r.Met(), std)
}

// deliver renders a document for the paper of its job, and tells whether every criterion is met.
func (o proposalOptions) deliver(ctx context.Context, offer document.Document, write proposal.Writer, target files.Target, j *job.Job, met bool, std streams) error {
	std.warnOf(offer)
	content, err := write(offer, proposal.PaperFor(o.paper, j))
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := deliverFile(content, target, std.out); err != nil {
		return err
	}
	if !met {
		return exit.ErrNotMet
	}
	return nil
}

// dated sets the date of the job to that of the flag, if there is one; the cautions tell what is in force by then.
func (o proposalOptions) dated(j *job.Job) error {
	if o.date == "" {
		return nil
	}
	day, err := time.Parse(time.DateOnly, o.date)
	if err != nil {
		return exit.Usagef("--date is %q, want a day as 2026-04-30", o.date)
	}
	j.Facts.Date = day
	return nil
}
