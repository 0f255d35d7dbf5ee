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
	kinds := false
	cmd := &cobra.Command{
		Use:   "levels [WORD ...]",
		Short: "List or search the published levels, or the kinds of space",
		Long: `levels lists the published levels that have all the words, with their sources. A
kind of space, as retail-sales, brings those about it. With --spaces it lists the
kinds of space themselves: which a job names as [room] space.`,
		Example: "  lampswap levels\n  lampswap levels warehouse average\n  lampswap levels warehouse-bulky\n  lampswap levels --spaces retail",
		RunE: func(cmd *cobra.Command, args []string) error {
			if kinds {
				return lists.Spaces(cmd.OutOrStdout(), args)
			}
			return lists.Levels(cmd.OutOrStdout(), args)
		},
	}
	cmd.Flags().BoolVar(&kinds, "spaces", false, "list the kinds of space, with what is known of each")
	return cmd
}
