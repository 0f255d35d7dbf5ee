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
		Example: `  lampswap plot --output maps
  lampswap new dock.toml
  lampswap plot dock.toml --output dock-maps --formats pdf`,
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return plot(cmd.Context(), opts, args, streamsOf(cmd))
		},
	}
	spaceFlag(cmd, &opts.space)
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
	j, err := jobs.Request{Args: args, Space: opts.space, In: std.in, Err: std.err}.One(ctx, "plot")
	if err != nil {
		return err
	}
	target, err := files.ToFolder("--output", opts.output, jobs.Inputs(j, args))
	if err != nil {
		return err
	}
	result, err := runStudy(ctx, j, std.err)
	if err != nil {
		return err
	}
	all := figures.All(result)
	std.warnOf(all)
	drawings, err := figures.Draw(ctx, all, opts.formats, opts.widthIn, origin.Of(j.InputsDigest))
	if err != nil {
		return err
	}
	return target.WriteAll(drawings, std.out)
}
