package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/audit"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
)

// auditOptions are what new is asked of a walk through a building.
type auditOptions struct {
	form, sheet, from string // files: the empty sheet, the filled-in one, the building
	kinds             string // a file with [kinds]
	units             string
}

func (o *auditOptions) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.form, "audit-form", "", "write an empty audit sheet to this file, .csv or .xlsx")
	f.StringVar(&o.sheet, "audit", "", "make a building of this audit sheet, .csv or .xlsx")
	f.StringVar(&o.from, "audit-from", "", "write the audit sheet of this building to the file that is named, .csv or .xlsx")
	f.StringVar(&o.kinds, "kinds", "", "with a sheet: a job or a building whose [kinds] it names")
	f.StringVar(&o.units, "units", "imperial", "with a sheet: imperial or metric, what it is in")
}

func (o *auditOptions) asked() bool {
	return o.form+o.sheet+o.from+o.kinds != "" || o.units != "imperial"
}

func (o *auditOptions) run(args []string, stdout, stderr io.Writer) error {
	switch {
	case o.units != "imperial" && o.units != "metric":
		return exit.Usagef("--units is %q, want imperial or metric", o.units)
	case o.form != "" && o.sheet+o.from == "":
		return o.writeForm(args, stdout)
	case o.sheet != "" && o.form+o.from == "":
		return o.makeBuilding(args, stdout)
	case o.from != "" && o.form+o.sheet+o.kinds == "" && o.units == "imperial":
		return o.writeSheet(args, stdout, stderr)
	case o.from != "" && o.form+o.sheet == "":
		return exit.Usagef("--kinds and --units stand beside --audit-from, want neither: the building tells both")
	}
	return exit.Usagef("want one of --audit-form, --audit and --audit-from; --kinds and --units go with the first two")
}

// known are the kinds of the file that --kinds names, seen from the folder of what is written.
func (o *auditOptions) known(beside string) (audit.Kinds, error) {
	if o.kinds == "" {
		return nil, nil
	}
	text, err := job.ReadText(o.kinds)
	if err != nil {
		return nil, exit.Usagef("%s: %s", o.kinds, job.Reason(err))
	}
	kinds, err := audit.KindsOf(o.kinds, text, func(file string) string {
		path := job.PathBeside(o.kinds, file)
		if near, err := filepath.Rel(filepath.Dir(beside), path); err == nil {
			path = near
		}
		return filepath.ToSlash(path)
	})
	if err != nil {
		return nil, exit.Usagef("--kinds: %w", err)
	}
	return kinds, nil
}

// writeForm writes an empty sheet.
func (o *auditOptions) writeForm(args []string, stdout io.Writer) error {
	if len(args) > 0 {
		return exit.Usagef("%s stands beside --audit-form, want the sheet alone", args[0])
	}
	if !audit.Is(o.form) {
		return exit.Usagef("--audit-form is %q, want a file that ends in .csv or .xlsx", o.form)
	}
	kinds, err := o.known(o.form)
	if err != nil {
		return err
	}
	content, err := audit.Form(o.form, o.units == "metric", kinds)
	if err != nil {
		return err
	}
	if err := writeNew(o.form, "--audit-form", content); err != nil {
		return err
	}
	fmt.Fprintln(stdout, o.form)
	return nil
}

// makeBuilding makes a building of a sheet.
func (o *auditOptions) makeBuilding(args []string, stdout io.Writer) error {
	switch {
	case !audit.Is(o.sheet):
		return exit.Usagef("--audit is %q, want a file that ends in .csv or .xlsx", o.sheet)
	case len(args) == 0:
		return exit.Usagef("--audit stands without the building to write, want its file: lampswap new --audit %s building.toml", o.sheet)
	}
	content, err := job.ReadText(o.sheet)
	if err != nil {
		return exit.Usagef("%s: %s", o.sheet, job.Reason(err))
	}
	kinds, err := o.known(args[0])
	if err != nil {
		return err
	}
	title := strings.TrimSuffix(filepath.Base(args[0]), filepath.Ext(args[0]))
	made, err := audit.ReadSheet(o.sheet, content).Building(title, o.units == "metric", kinds, job.Beside(args[0]), nil)
	if err != nil {
		return err
	}
	if err := writeNew(args[0], "the new building", made.Text); err != nil {
		return err
	}
	fmt.Fprintf(stdout, "%s: %s, %d luminaires\n", args[0], typeset.Count(len(made.Building.Spaces), "space"), made.Building.Whole.Existing.Number())
	terminal.List(stdout, "What blank cells took", made.Defaults)
	return nil
}

// writeSheet writes the sheet of a building.
func (o *auditOptions) writeSheet(args []string, stdout, stderr io.Writer) error {
	if len(args) == 0 || !audit.Is(args[0]) {
		return exit.Usagef("--audit-from wants the sheet to write, a file that ends in .csv or .xlsx: lampswap new --audit-from %s walk.csv", o.from)
	}
	text, err := job.ReadText(o.from)
	if err != nil {
		return exit.Usagef("%s: %s", o.from, job.Reason(err))
	}
	if !building.Is(text) {
		return exit.Usagef("%s is no building, want a file with [[spaces]]", o.from)
	}
	b, err := building.Read(o.from, text, job.Beside(o.from), nil)
	if err != nil {
		return err
	}
	content, lost, err := audit.From(args[0], b)
	if err != nil {
		return err
	}
	if err := writeNew(args[0], "the new sheet", content); err != nil {
		return err
	}
	for _, what := range lost {
		fmt.Fprintf(stderr, "lampswap: a sheet does not hold: %s\n", what)
	}
	fmt.Fprintln(stdout, args[0])
	return nil
}
