package main

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"
)

type checkOptions struct {
	format string
	points bool
}

func newCheck() *cobra.Command {
	opts := checkOptions{}
	cmd := &cobra.Command{
		Use:   "check [JOB.toml]",
		Short: "Light before and after the swap, by two methods, against the levels asked for",
		Long: `check prints a before-and-after ledger and a verdict. Without a job file it takes the built-in
demonstration job. Exit code 0: every criterion is met by the proposed system; 1: one is not;
2: the input is wrong; 3: something else failed.`,
		Example: "  lampswap check\n  lampswap check dock.toml\n  lampswap check --format json --points dock.toml",
		Args:    atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return check(cmd.Context(), opts, args, cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	cmd.Flags().StringVar(&opts.format, "format", "text", "text or json")
	cmd.Flags().BoolVar(&opts.points, "points", false, "with --format json: every grid point too")
	return cmd
}

func check(ctx context.Context, opts checkOptions, args []string, stdout, stderr io.Writer) error {
	if opts.format != "text" && opts.format != "json" {
		return usageError{fmt.Errorf("--format is %q, want text or json", opts.format)}
	}
	if opts.points && opts.format != "json" {
		return usageError{fmt.Errorf("--points goes with --format json")}
	}
	j, err := readJob(args)
	if err != nil {
		return err
	}
	result, err := runStudy(ctx, j, stderr)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if opts.format == "json" {
		err = writeJSON(&out, result, opts.points)
	} else {
		writeLedger(&out, result)
	}
	if err != nil {
		return err
	}
	if _, err := out.WriteTo(stdout); err != nil {
		return err
	}
	if !result.Met() {
		return errNotMet
	}
	return nil
}
