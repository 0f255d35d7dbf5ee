package main

import (
	"github.com/spf13/cobra"
)

// spaceFlag lets a command take one space of a building where it takes a job.
func spaceFlag(cmd *cobra.Command, to *string) {
	cmd.Flags().StringVar(to, "space", "", "of a building: the one space that is meant, by its name")
}
