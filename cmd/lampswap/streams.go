package main

import (
	"io"

	"github.com/spf13/cobra"
)

// streams are what a command reads from and answers to.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

func streamsOf(cmd *cobra.Command) streams {
	return streams{cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr()}
}
