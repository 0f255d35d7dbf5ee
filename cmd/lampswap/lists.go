package main

import (
	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/lists"
)

func newLamps() *cobra.Command {
	return &cobra.Command{
		Use:     "lamps [WORD ...]",
		Short:   "List the lamps and their ballasts, with sources",
		Example: "  lampswap lamps\n  lampswap lamps F32T8",
		RunE: func(cmd *cobra.Command, args []string) error {
			return lists.Lamps(cmd.OutOrStdout(), args)
		},
	}
}

func newLevels() *cobra.Command {
	return &cobra.Command{
		Use:     "levels [WORD ...]",
		Short:   "List or search the published levels, with sources",
		Example: "  lampswap levels\n  lampswap levels warehouse average",
		RunE: func(cmd *cobra.Command, args []string) error {
			return lists.Levels(cmd.OutOrStdout(), args)
		},
	}
}
