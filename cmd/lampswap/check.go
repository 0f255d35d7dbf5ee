package main

import (
	"bytes"
	"context"
	"io"

	"github.com/spf13/cobra"
)

type checkOptions struct {
	format string
	points bool
	output string // file; "" is stdout
	grid   string // whose points --format csv writes

	uncertainty bool
}

func newCheck() *cobra.Command {
	opts := checkOptions{}
	cmd := &cobra.Command{
		Use:   "check [JOB.toml]",
		Short: "Light before and after the swap, against the levels asked for",
		Long: `check prints a before-and-after ledger and a verdict, by two methods. Without a
job file it takes the built-in demonstration job. Exit code 0: every criterion
is met by the proposed system; 1: one is not; 2: the input is wrong; 3:
something else failed.`,
		Example: "  lampswap check\n  lampswap check dock.toml\n  lampswap check --format json --points dock.toml\n" +
			"  lampswap check --format xlsx --output dock.xlsx dock.toml\n  lampswap check --format csv --grid \"work plane\" dock.toml",
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return check(cmd.Context(), opts, args, cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	cmd.Flags().StringVar(&opts.format, "format", "text", "text, json, csv or xlsx")
	cmd.Flags().StringVarP(&opts.output, "output", "o", "", "file to write in place of standard output; xlsx needs one")
	cmd.Flags().StringVar(&opts.grid, "grid", "", "with --format csv: the points of this grid, such as \"work plane\", in place of the ledger")
	cmd.Flags().BoolVar(&opts.points, "points", false, "with --format json: every grid point too")
	cmd.Flags().BoolVar(&opts.uncertainty, "uncertainty", false, "how far the light may be from the prediction, by a Monte Carlo over the job's [uncertainty]")
	return cmd
}

func check(ctx context.Context, opts checkOptions, args []string, stdout, stderr io.Writer) error {
	if err := opts.valid(); err != nil {
		return err
	}
	j, err := readJob(args)
	if err != nil {
		return err
	}
	if err := opts.hasGrid(j); err != nil {
		return err
	}
	j.Uncertainty.Asked = j.Uncertainty.Asked || opts.uncertainty
	result, err := runStudy(ctx, j, stderr)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := opts.write(&out, result); err != nil {
		return err
	}
	if err := opts.deliver(out.Bytes(), stdout); err != nil {
		return err
	}
	if !result.Met() {
		return errNotMet
	}
	return nil
}
