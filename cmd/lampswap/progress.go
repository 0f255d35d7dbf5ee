package main

import (
	"context"
	"io"

	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

// runStudy works a job out, with its progress on stderr.
func runStudy(ctx context.Context, j *job.Job, stderr io.Writer) (*study.Result, error) {
	return terminal.ShowProgress(stderr, func(p lighting.Progress) (*study.Result, error) { return study.Run(ctx, j, p) })
}
