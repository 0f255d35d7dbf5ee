package main

import (
	_ "github.com/jedib0t/go-pretty/v6/progress"
	_ "github.com/jedib0t/go-pretty/v6/table"
	_ "github.com/pelletier/go-toml/v2/unstable"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/spf13/cobra"
	_ "github.com/spf13/cobra/doc"
	_ "github.com/spf13/pflag"
	_ "github.com/stretchr/testify/require"
	_ "golang.org/x/sync/errgroup"
	_ "gonum.org/v1/gonum/dsp/fourier"
	_ "gonum.org/v1/gonum/integrate/quad"
	_ "gonum.org/v1/gonum/mat"
	_ "gonum.org/v1/gonum/stat"
	_ "gonum.org/v1/plot/cmpimg"
	_ "gonum.org/v1/plot/plotter"
	_ "gonum.org/v1/plot/vg/vgpdf"
	_ "gonum.org/v1/plot/vg/vgimg"
	_ "gonum.org/v1/plot/vg/vgsvg"
	_ "pgregory.net/rapid"
)

func main() {}
