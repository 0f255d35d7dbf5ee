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
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/options"
)

type proposalOptions struct {
	output, paper, date string
	part, language      string
	options             bool
	space               string
	demo                string
}

func newProposal() *cobra.Command {
	opts := proposalOptions{}
	cmd := &cobra.Command{
		Use:   "proposal [JOB.toml] --output FILE.pdf|FILE.html",
		Short: "Pages to attach to a proposal: verdict, ledger, light maps, sources",
		Long: `proposal writes one document, as PDF or as one HTML file that needs nothing
else, in two parts. The offer is for whoever pays: the verdict in plain words,
the light as bars and maps, what is saved and what it costs, what comes in and
goes out. The record is for whoever checks it: the before-and-after ledger,
light maps of every grid, where the luminaires send their light, light through
the years, money, the assumptions and defaults in full, sources, cautions, and
how it was computed; with --options other lamps for the same fixtures. Without
a job file it takes the built-in demonstration job. The name of the file goes
to standard output. Of a building the offer tells the whole first, then each
space. --language es puts the offer into Spanish; the record stays English.

The job file may say date, prepared_by, prepared_for and north; whose offer it
is in [firm] (name, address, phone, email, license, logo: JPEG, PNG, or SVG with
its letters as paths); notes in Markdown;
[[photos]] with file and caption; and [offer] with work = [["step", "when"]],
warranty, valid_until and acceptance = true for lines to sign on. Without a date
in the job or in --date the document has none. Exit code 0: every criterion is
met by the proposed lighting; 1: the document is written, and one is missed; 2: the
input is wrong; 3: something else failed.`,
		Example: `  lampswap proposal --output harbour-lane.pdf
  lampswap new dock.toml
  lampswap proposal dock.toml --output dock.html --date 2026-04-30
  lampswap proposal dock.toml --output dock.pdf --paper a4
  lampswap proposal dock.toml --output oferta.pdf --part offer --language es`,
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return writeProposal(cmd.Context(), opts, args, streamsOf(cmd))
		},
	}
	spaceFlag(cmd, &opts.space)
	demoFlag(cmd, &opts.demo)
	f := cmd.Flags()
	f.StringVarP(&opts.output, "output", "o", "", "file to write, .pdf or .html (required)")
	f.StringVar(&opts.paper, "paper", "", "letter or a4 (default letter for a job in feet, a4 for one in meters)")
	f.StringVar(&opts.date, "date", "", "date of the document, YYYY-MM-DD, in place of the job's")
	f.StringVar(&opts.part, "part", string(proposal.Both), "offer, record or both")
	f.StringVar(&opts.language, "language", string(phrases.English), "of the offer: "+strings.Join(phrases.Languages(), " or "))
	f.BoolVar(&opts.options, "options", false, "tell of other lamps and ballasts for the same fixtures")
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
	part := proposal.Part(opts.part)
	if !slices.Contains(proposal.Parts, part) {
		return exit.Usagef("--part is %q, want one of offer, record, both", opts.part)
	}
	if !slices.Contains(phrases.Languages(), opts.language) {
		return exit.Usagef("--language is %q, want one of %s", opts.language, strings.Join(phrases.Languages(), ", "))
	}
	asked, err := jobs.Request{Args: args, Demo: opts.demo, Space: opts.space, In: std.in, Err: std.err}.Open(ctx)
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
	var others []*options.Options
	if opts.options {
		others, err = terminal.ShowProgress(std.err, func(p lighting.Progress) ([]*options.Options, error) { return proposal.Others(ctx, j, p) })
		if err != nil {
			return err
		}
	}
	doc, err := proposal.Of(result, others, part, phrases.Language(opts.language))
	if err != nil {
		return err
	}
	return opts.deliver(ctx, doc, write, target, j, result.Stands(), std)
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
	doc, err := proposal.OfBuilding(r, proposal.Part(o.part), phrases.Language(o.language))
	if err != nil {
		return err
	}
	return o.deliver(ctx, doc, write, target, b.Whole, r.Stands(), std)
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
