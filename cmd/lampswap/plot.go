package main

import (
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/plots"
)

type plotOptions struct {
	output  string
	formats []string
	widthIn float64
	space   string
	demo    string
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
file it takes the built-in demonstration job; of a building it draws every space,
and names the files after it. The names of the files that were
written go to standard output.`,
		Example: `  lampswap plot --output maps
  lampswap new dock.toml
  lampswap plot dock.toml --output dock-maps --formats pdf`,
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return plot(cmd.Context(), opts, args, streamsOf(cmd))
		},
	}
	spaceFlag(cmd, &opts.space)
	demoFlag(cmd, &opts.demo)
	cmd.Flags().StringVarP(&opts.output, "output", "o", "", "folder to write to; made if it is not there (required)")
	cmd.Flags().StringSliceVar(&opts.formats, "formats", plots.Formats, "which of png, svg, pdf")
	cmd.Flags().Float64Var(&opts.widthIn, "width", 7.5, "width of a figure, inches")
	return cmd
}

func plot(ctx context.Context, opts plotOptions, args []string, std streams) error {
	if opts.output == "" {
		return exit.Usage(errors.New("--output is missing, want the folder to write the maps to"))
	}
	for _, f := range opts.formats {
		if !slices.Contains(plots.Formats, f) {
			return exit.Usagef("--formats has %q, want some of %s", f, strings.Join(plots.Formats, ", "))
		}
	}
	if !(opts.widthIn >= 3 && opts.widthIn <= 40) {
		return exit.Usagef("--width is %g, want 3 to 40 inches", opts.widthIn)
	}
	asked, err := jobs.Request{Args: args, Demo: opts.demo, Space: opts.space, In: std.in, Err: std.err}.Open(ctx)
	if err != nil {
		return err
	}
	names, digest := asked.Inputs()
	target, err := files.ToFolder("--output", opts.output, jobs.InputsOf(names, args))
	if err != nil {
		return err
	}
	all, err := figuresOf(ctx, asked, std)
	if err != nil {
		return err
	}
	std.warnOf(all)
	drawings, err := figures.Draw(ctx, all, opts.formats, opts.widthIn, origin.Of(digest))
	if err != nil {
		return err
	}
	return target.WriteAll(drawings, std.out)
}

// figuresOf works out what is asked for, and returns its figures.
func figuresOf(ctx context.Context, asked jobs.Opened, std streams) ([]figures.Named, error) {
	if asked.Building != nil {
		r, err := runBuilding(ctx, asked.Building, std.err)
		if err != nil {
			return nil, err
		}
		return figures.OfBuilding(r), nil
	}
	result, err := runStudy(ctx, asked.Job, std.err)
	if err != nil {
		return nil, err
	}
	return figures.All(result), nil
}
