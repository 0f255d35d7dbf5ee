package main

import (
	"bytes"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/figures"
)

// streams are what a command reads from and answers to.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// answered writes an answer, and tells by its error whether every criterion is met.
func (s streams) answered(answer *bytes.Buffer, met bool) error {
	if _, err := answer.WriteTo(s.out); err != nil {
		return err
	}
	if !met {
		return exit.ErrNotMet
	}
	return nil
}

// warnOf says, before it is written, which characters of what is to be drawn have no letters there.
func (s streams) warnOf(drawn any) {
	if text := figures.Undrawn(drawn); text != "" {
		fmt.Fprintf(s.err, "lampswap: warning: %s\n", text)
	}
}

func streamsOf(cmd *cobra.Command) streams {
	return streams{cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr()}
}
