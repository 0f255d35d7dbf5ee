package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"gonum.org/v1/plot/vg"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/lm63"
	"lampswap/photometry/losses"
	"lampswap/plots"
)

type fixtureOptions struct {
	format, section, lamp, output string
	lamps, endToEnd               int
	diameterIn                    float64
}

func newFixture() *cobra.Command {
	opts := fixtureOptions{}
	cmd := &cobra.Command{
		Use:   "fixture FILE.ies | NAME | --section FILE.toml",
		Short: "One luminaire: lumens, efficiency, spacing, utilization",
		Long: `fixture tells what a luminaire does, from its LM-63 file or computed from a
cross-section: a built-in one by its name, or a section file: lumens,
efficiency, spacing criteria and coefficients of utilization. --output writes
the polar candela plot (png, svg, pdf) or, for a cross-section, the LM-63 file
(ies) of the computed estimate.

Built-in cross-sections: ` + strings.Join(fixture.Builtin(), ", "),
		Example: "  lampswap fixture strip-4in --lamp F96T12 --lamps 2\n  lampswap fixture strip-5in --lamp F32T8/800 --lamps 4 --output tandem.ies\n  lampswap fixture tandem.ies --output tandem.pdf",
		Args:    atMostOne("an LM-63 file or the name of a built-in cross-section"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return describeFixture(cmd.Context(), opts, args, cmd.OutOrStdout())
		},
	}
	f := cmd.Flags()
	f.StringVar(&opts.format, "format", "text", "text or json")
	f.StringVar(&opts.section, "section", "", "a cross-section file instead of an LM-63 file")
	f.StringVar(&opts.lamp, "lamp", "F32T8/800", "for a cross-section: a lamp of 'lampswap lamps'")
	f.IntVar(&opts.lamps, "lamps", 2, "for a cross-section: lamps in the luminaire")
	f.IntVar(&opts.endToEnd, "end-to-end", 0, "for a cross-section: lamps in tandem; 0 takes the fewest that fit")
	f.Float64Var(&opts.diameterIn, "diameter", 0, "for a cross-section: the lamp's diameter, inches; 0 takes the lamp list's")
	f.StringVarP(&opts.output, "output", "o", "", "file to write: .ies, .png, .svg or .pdf")
	return cmd
}

// A described luminaire is the file that tells of it, with what follows from it.
type described struct {
	name      string
	file      *lm63.File
	luminaire photometry.Luminaire
	category  string // suggested
	computed  bool   // from a cross-section
	notes     []string
}

func describeFixture(_ context.Context, opts fixtureOptions, args []string, stdout io.Writer) error {
	if opts.format != "text" && opts.format != "json" {
		return usageError{fmt.Errorf("--format is %q, want text or json", opts.format)}
	}
	extension := strings.TrimPrefix(strings.ToLower(filepath.Ext(opts.output)), ".")
	if opts.output != "" && extension != "ies" && !slices.Contains(plots.Formats, extension) {
		return usageError{fmt.Errorf("--output is %q, want a name that ends in .ies, .png, .svg or .pdf", opts.output)}
	}
	d, err := readFixture(opts, args)
	if err != nil {
		return err
	}
	var answer, output bytes.Buffer
	if opts.format == "json" {
		err = d.writeJSON(&answer)
	} else {
		d.writeText(&answer)
	}
	switch {
	case err != nil:
		return err
	case extension == "ies" && !d.computed:
		return usageError{errors.New("--output FILE.ies goes with a cross-section; a file is there already")}
	case extension == "ies":
		err = lm63.Write(&output, d.file)
	case extension != "":
		err = plots.Write(&output, d.polar(), extension, 6*vg.Inch, 0)
	}
	if err != nil {
		return err
	}
	if opts.output != "" {
		if err := writeFile(opts.output, output.Bytes()); err != nil {
			return err
		}
	}
	_, err = answer.WriteTo(stdout)
	return err
}

func (d described) polar() plots.Polar {
	p := plots.Polar{Title: d.name, Subtitle: "Luminous intensity with the file's lamps, ballast factor left out", Distribution: d.luminaire.Distribution}
	if d.computed {
		p.Caption = "Computed from the cross-section: an estimate, nothing was measured."
	}
	return p
}

// readFixture finds the luminaire that the command line names.
func readFixture(opts fixtureOptions, args []string) (described, error) {
	switch {
	case opts.section == "" && len(args) == 0:
		return described{}, usageError{errors.New("nothing is named, want an LM-63 file, --section FILE.toml, or one of " + strings.Join(fixture.Builtin(), ", "))}
	case opts.section != "" && len(args) > 0:
		return described{}, usageError{fmt.Errorf("--section stands beside %s, want one of the two", args[0])}
	case opts.section != "":
		data, err := os.ReadFile(opts.section)
		if err != nil {
			return described{}, unreadable(opts.section, err)
		}
		section, err := fixture.Read(opts.section, bytes.NewReader(data))
		if err != nil {
			return described{}, err
		}
		return computeFixture(opts, section)
	}
	if section, ok := fixture.Find(args[0]); ok {
		return computeFixture(opts, section)
	}
	file, err := lm63.ReadFile(args[0])
	if err != nil {
		if near := diag.Nearest(args[0], fixture.Builtin()); near != "" && errors.Is(err, fs.ErrNotExist) {
			return described{}, usageError{fmt.Errorf("%s: no such file and no built-in cross-section (%s?)", args[0], near)}
		}
		return described{}, unreadable(args[0], err)
	}
	luminaire, err := file.Luminaire()
	if err != nil {
		return described{}, err
	}
	d := described{name: filepath.Base(args[0]), file: file, luminaire: luminaire, notes: file.Warnings}
	d.category = losses.SuggestCategory(d.upwardShare()).String()
	return d, nil
}

// unreadable makes a file that cannot be opened a fault of the command line; other errors stay as they are.
func unreadable(name string, err error) error {
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return usageError{fmt.Errorf("%s: %w", name, path.Err)}
	}
	return err
}

func computeFixture(opts fixtureOptions, section *fixture.Section) (described, error) {
	lamp, ok := catalog.FindLamp(opts.lamp)
	if !ok {
		text := fmt.Sprintf("--lamp is %q, want a lamp of `lampswap lamps`", opts.lamp)
		if near := diag.Nearest(opts.lamp, catalog.LampNames()); near != "" {
			text += " (" + near + "?)"
		}
		return described{}, usageError{errors.New(text)}
	}
	if opts.lamps < 1 || opts.lamps > 100 || opts.endToEnd < 0 || opts.endToEnd > opts.lamps {
		return described{}, usageError{fmt.Errorf("--lamps %d --end-to-end %d, want 1 to 100 lamps and no more of them in tandem", opts.lamps, opts.endToEnd)}
	}
	endToEnd := opts.endToEnd
	if endToEnd == 0 {
		endToEnd = section.FewestEndToEnd(opts.lamps)
	}
	if opts.lamps%endToEnd != 0 {
		return described{}, usageError{fmt.Errorf("--lamps %d do not make equal rows of %d, want a multiple", opts.lamps, endToEnd)}
	}
	diameter := lamp.Diameter
	if opts.diameterIn != 0 {
		diameter = opts.diameterIn * photometry.Inch
	}
	if !(diameter > 0) {
		return described{}, usageError{fmt.Errorf("the lamp list does not know the diameter of %s, want --diameter, inches", lamp.Name)}
	}
	tubes := fixture.Tubes{Across: opts.lamps / endToEnd, EndToEnd: endToEnd, Diameter: diameter, Lumens: lamp.InitialLumens,
		HalfAngle: lamp.BeamDeg / 2 * math.Pi / 180, LuminousLength: lamp.NominalLength * float64(endToEnd)}
	file, result, err := sectionFile(section, tubes, lamp.Name, 1, 0)
	if err != nil {
		return described{}, err
	}
	luminaire, err := file.Luminaire()
	if err != nil {
		return described{}, err
	}
	d := described{name: fmt.Sprintf("%s, %d x %s", section.Name, opts.lamps, lamp.Name), file: file, luminaire: luminaire, computed: true,
		category: section.SuggestedCategory(result)}
	d.notes = append([]string{"computed from the cross-section, ends left out: an estimate, nothing was measured; " + section.Source}, section.Defaults...)
	if lamp.FromMemory() {
		d.notes = append(d.notes, "the lumens of "+lamp.Name+", or what they lose, are from memory in part, unverified")
	}
	if lamp.LED && lamp.BeamDeg == 0 {
		d.notes = append(d.notes, "the angle into which the tube sends its light is not known; computed as if it were all round")
	}
	return d, nil
}

// upwardShare is the part of the luminaire's lumens above the horizontal; 0 of a dark one.
func (d described) upwardShare() float64 {
	flux := d.luminaire.Distribution.Flux()
	if flux == 0 {
		return 0
	}
	return d.luminaire.Distribution.FluxBetween(math.Pi/2, math.Pi) / flux
}
