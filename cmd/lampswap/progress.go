package main

import (
	"context"
	"io"

	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
)

// runBuilding works a building out, with its progress on stderr.
func runBuilding(ctx context.Context, b *building.Building, stderr io.Writer) (*whole.Result, error) {
	return terminal.ShowProgress(stderr, func(p lighting.Progress) (*whole.Result, error) { return whole.Run(ctx, b, p) })
}

// runStudy works a job out, with its progress on stderr.
func runStudy(ctx context.Context, j *job.Job, stderr io.Writer) (*study.Result, error) {
	return terminal.ShowProgress(stderr, func(p lighting.Progress) (*study.Result, error) { return study.Run(ctx, j, p) })
}
