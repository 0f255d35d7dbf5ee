package main

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/luminaire"
	"lampswap/photometry/fixture"
	"lampswap/plots"
)

type fixtureOptions struct {
	format, output string
	luminaire      luminaire.Wanted
}

func newFixture() *cobra.Command {
	opts := fixtureOptions{}
	cmd := &cobra.Command{
		Use:   "fixture FILE.ies | NAME | --section FILE.toml",
		Short: "One luminaire: lumens, efficiency, spacing, utilization",
		Long: `fixture tells what a luminaire does, from its LM-63 file or computed from a
cross-section: a built-in one by its name, or a section file: lumens,
efficiency, spacing criteria and coefficients of utilization. --output writes
the polar candela plot (png, svg, pdf) or an LM-63 file (ies): of a
cross-section the computed estimate, of a file the same numbers and keywords in
plain form, with its tilt file inside.

Built-in cross-sections: ` + strings.Join(fixture.Builtin(), ", "),
		Example: `  lampswap fixture strip-4in --lamp F96T12 --lamps 2
  lampswap fixture strip-5in --lamp F32T8/800 --lamps 4 --output tandem.ies
  lampswap fixture tandem.ies --output tandem.pdf`,
		Args: atMostOne("an LM-63 file or the name of a built-in cross-section"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return describeFixture(opts, args, streamsOf(cmd))
		},
	}
	f := cmd.Flags()
	f.StringVar(&opts.format, "format", "text", "text or json")
	f.StringVar(&opts.luminaire.Section, "section", "", "a cross-section file instead of an LM-63 file")
	f.StringVar(&opts.luminaire.Lamp, "lamp", "F32T8/800", "for a cross-section: a lamp of 'lampswap lamps'")
	f.IntVar(&opts.luminaire.Lamps, "lamps", 2, "for a cross-section: lamps in the luminaire")
	f.IntVar(&opts.luminaire.EndToEnd, "end-to-end", 0, "for a cross-section: lamps in tandem; 0 takes the fewest that fit")
	f.Float64Var(&opts.luminaire.DiameterIn, "diameter", 0, "for a cross-section: the lamp's diameter, inches; 0 takes the lamp list's")
	f.StringVarP(&opts.output, "output", "o", "", "file to write: .ies, .png, .svg or .pdf")
	return cmd
}

func describeFixture(opts fixtureOptions, args []string, std streams) error {
	if opts.format != "text" && opts.format != "json" {
		return exit.Usagef("--format is %q, want text or json", opts.format)
	}
	extension := strings.TrimPrefix(strings.ToLower(filepath.Ext(opts.output)), ".")
	if opts.output != "" && extension != "ies" && !slices.Contains(plots.Formats, extension) {
		return exit.Usagef("--output is %q, want a name that ends in .ies, .png, .svg or .pdf", opts.output)
	}
	d, err := luminaire.Read(opts.luminaire, args)
	if err != nil {
		return err
	}
	target, err := files.ToFile("--output", opts.output, d.Inputs)
	if err != nil {
		return err
	}
	var answer, output bytes.Buffer
	if opts.format == "json" {
		err = d.WriteJSON(&answer)
	} else {
		d.WriteText(&answer)
	}
	switch {
	case err != nil:
		return err
	case extension == "ies":
		err = d.WriteIES(&output)
	case extension != "":
		std.warnOf(d.Polar())
		err = figures.Write(&output, d.Polar(), extension, 6*vg.Inch, d.Origin)
	}
	if err != nil {
		return err
	}
	if target.Asked() {
		if err := target.Write(output.Bytes()); err != nil {
			return err
		}
	}
	_, err = answer.WriteTo(std.out)
	return err
}
