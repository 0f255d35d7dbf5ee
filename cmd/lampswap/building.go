package main

import (
	"strings"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/jobs"
)

// spaceFlag lets a command take one space of a building where it takes a job.
func spaceFlag(cmd *cobra.Command, to *string) {
	cmd.Flags().StringVar(to, "space", "", "of a building: the one space that is meant, by its name")
}

// demoFlag lets a command take a demonstration where it takes a job.
func demoFlag(cmd *cobra.Command, to *string) {
	cmd.Flags().StringVar(to, "demo", "", "in place of a job: a demonstration that comes with lampswap, invented: "+strings.Join(jobs.DemoNames(), ", "))
}
