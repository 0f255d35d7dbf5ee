package main

import (
	"bytes"
	"path/filepath"
	"strings"

	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/options"
)

const frontWidthIn = 7.5

// formatOf is the format of a figure by the name of its file.
func formatOf(path string) string {
	return strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
}

// writeFront draws light against power to a file.
func writeFront(target files.Target, o *options.Options) error {
	var b bytes.Buffer
	if err := figures.Write(&b, figures.Front(o), formatOf(target.Path()), frontWidthIn*vg.Inch, origin.Of(o.Job.InputsDigest)); err != nil {
		return err
	}
	return target.Write(b.Bytes())
}
