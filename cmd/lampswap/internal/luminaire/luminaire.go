// Package luminaire tells what one luminaire does, by its LM-63 file or computed from a cross-section, and writes the file of a computed one.
package luminaire

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"strings"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/job"
	"lampswap/photometry/lm63"
	"lampswap/photometry/losses"
	"lampswap/plots"
)

// A Wanted luminaire is what the command line asks for: a section file of its own, and the lamps in any cross-section.
type Wanted struct {
	Section, Lamp   string
	Lamps, EndToEnd int
	DiameterIn      float64 // 0 takes the lamp list's
}

// A Described luminaire is the file that tells of it, with what follows from it.
type Described struct {
	name      string
	File      *lm63.File
	luminaire photometry.Luminaire
	category  string // suggested
	Computed  bool   // from a cross-section
	notes     []string
	Origin    origin.Origin
	Inputs    []string // paths of the files that it was read from
}

// Polar is where the luminaire sends its light, as a figure.
func (d Described) Polar() plots.Polar {
	p := plots.Polar{Title: d.name, Subtitle: "Luminous intensity with the file's lamps, ballast factor left out", Distribution: d.luminaire.Distribution}
	if d.Computed {
		p.Caption = "Computed from the cross-section: an estimate, nothing was measured."
	}
	return p
}

// Read finds the luminaire that the command line names.
func Read(opts Wanted, args []string) (Described, error) {
	switch {
	case opts.Section == "" && len(args) == 0:
		return Described{}, exit.Usage(errors.New("nothing is named, want an LM-63 file, --section FILE.toml, or one of " + strings.Join(fixture.Builtin(), ", ")))
	case opts.Section != "" && len(args) > 0:
		return Described{}, exit.Usagef("--section stands beside %s, want one of the two", args[0])
	case opts.Section != "":
		text, err := job.ReadText(opts.Section)
		if err != nil {
			return Described{}, unreadable(opts.Section, err)
		}
		section, err := fixture.Read(opts.Section, bytes.NewReader(text))
		if err != nil {
			return Described{}, err
		}
		d, err := computeFixture(opts, section, text)
		d.Inputs = []string{opts.Section}
		return d, err
	}
	if section, ok := fixture.Find(args[0]); ok {
		return computeFixture(opts, section, []byte(section.Name)) // its text is part of the build
	}
	return readFile(args[0])
}

// readFile reads an LM-63 file.
func readFile(path string) (Described, error) {
	text, err := job.ReadText(path)
	if err != nil {
		if near := diag.Nearest(path, fixture.Builtin()); near != "" && errors.Is(err, fs.ErrNotExist) {
			return Described{}, exit.Usagef("%s: no such file and no built-in cross-section (%s?)", path, near)
		}
		return Described{}, unreadable(path, err)
	}
	inputs := job.NewSources(text, lm63.Beside(path)) // the tilt file too
	file, err := lm63.Reader{Tilt: inputs.Open}.Read(path, bytes.NewReader(text))
	if err != nil {
		return Described{}, err
	}
	luminaire, err := file.Luminaire()
	if err != nil {
		return Described{}, err
	}
	d := Described{name: diag.Visible(filepath.Base(path)), File: file, luminaire: luminaire, notes: file.Warnings, Origin: origin.Of(inputs.Digest()), Inputs: []string{path}}
	for _, name := range inputs.Names() {
		d.Inputs = append(d.Inputs, job.PathBeside(path, name))
	}
	for _, fault := range job.Beyond(diag.Visible(path), file, luminaire) {
		d.notes = append(d.notes, "a job refuses this file: "+fault.Error())
	}
	d.category = losses.SuggestCategory(d.upwardShare()).String()
	return d, nil
}

// unreadable makes a file that cannot be opened a fault of the command line; other errors stay as they are.
func unreadable(name string, err error) error {
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return exit.Usagef("%s: %w", name, path.Err)
	}
	return err
}

// computeFixture works a cross-section out; text is what it was read from.
func computeFixture(opts Wanted, section *fixture.Section, text []byte) (Described, error) {
	lamp, ok := catalog.FindLamp(opts.Lamp)
	if !ok {
		text := fmt.Sprintf("--lamp is %q, want a lamp of `lampswap lamps`", opts.Lamp)
		if near := diag.Nearest(opts.Lamp, catalog.LampNames()); near != "" {
			text += " (" + near + "?)"
		}
		return Described{}, exit.Usage(errors.New(text))
	}
	if opts.Lamps < 1 || opts.Lamps > 100 || opts.EndToEnd < 0 || opts.EndToEnd > opts.Lamps {
		return Described{}, exit.Usagef("--lamps %d --end-to-end %d, want 1 to 100 lamps and no more of them in tandem", opts.Lamps, opts.EndToEnd)
	}
	endToEnd := opts.EndToEnd
	if endToEnd == 0 {
		endToEnd = section.FewestEndToEnd(opts.Lamps)
	}
	if opts.Lamps%endToEnd != 0 {
		return Described{}, exit.Usagef("--lamps %d do not make equal rows of %d, want a multiple", opts.Lamps, endToEnd)
	}
	diameter := lamp.Diameter
	if opts.DiameterIn != 0 {
		diameter = opts.DiameterIn * photometry.Inch
	}
	assumed := !(diameter > 0) // of LED tubes only: the list has it of all fluorescent lamps
	if assumed {
		diameter = fixture.DiameterT8
	}
	tubes := fixture.Tubes{Across: opts.Lamps / endToEnd, EndToEnd: endToEnd, Diameter: diameter, Lumens: lamp.InitialLumens,
		BeamAngle: lamp.BeamDeg * math.Pi / 180, LuminousLength: lamp.NominalLength * float64(endToEnd)}
	file, result, err := SectionFile(section, tubes, lamp.Name, 1, 0)
	if err != nil {
		return Described{}, err
	}
	luminaire, err := file.Luminaire()
	if err != nil {
		return Described{}, err
	}
	d := Described{name: fmt.Sprintf("%s, %d x %s", section.Name, opts.Lamps, lamp.Name), File: file, luminaire: luminaire, Computed: true,
		category: section.SuggestedCategory(result), Origin: origin.Of("").With("cross-section", text).With("lamps", fmt.Appendf(nil, "%s %+v", lamp.Name, tubes))}
	d.notes = append([]string{"computed from the cross-section, ends left out: an estimate, nothing was measured; " + section.Source}, section.Defaults...)
	if lamp.FromMemory() {
		d.notes = append(d.notes, "the lumens of "+lamp.Name+", or what they lose, are from memory in part, unverified")
	}
	if assumed {
		d.notes = append(d.notes, "the diameter of the tube is not known: 1 in taken, that of a T8; --diameter gives another")
	}
	if lamp.LED && lamp.BeamDeg == 0 {
		d.notes = append(d.notes, "the angle into which the tube sends its light is not known; computed as if it were all round")
	}
	return d, nil
}

// upwardShare is the part of the luminaire's lumens above the horizontal; 0 of a dark one.
func (d Described) upwardShare() float64 {
	flux := d.luminaire.Distribution.Flux()
	if flux == 0 {
		return 0
	}
	return d.luminaire.Distribution.FluxBetween(math.Pi/2, math.Pi) / flux
}
