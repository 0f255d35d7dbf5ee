package main

import (
	"bytes"
	"os"
	"path/filepath"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/building"
	"lampswap/photometry/realised"
)

// powerForm is the name of the form for power and hours of a building.
const powerForm = "power.csv"

// planLogs tells what is to be read of a building's power and hours, and writes the form. A form that is there is never written over.
func planLogs(opts stationsOptions, b *building.Building, args []string, std streams) error {
	if opts.format != "text" {
		return exit.Usagef("--format json is of the stations of one room: --space NAME too, one of %q", b.Names())
	}
	target, err := files.ToFolder("--output", opts.output, jobs.InputsOf(b.InputNames, args))
	if err != nil {
		return err
	}
	var out bytes.Buffer
	ledger.WriteToLog(&out, realised.Of(b, nil), origin.Of(b.InputsDigest))
	if _, err := os.Lstat(filepath.Join(target.Path(), powerForm)); target.Asked() && err == nil {
		return exit.Usagef("%s in %s is there already, and may be filled in: want another folder", powerForm, target.Path())
	}
	return deliver(&out, std.out, opts.format, target, func() ([]files.File, error) {
		return []files.File{{Name: powerForm, Content: realised.Form(b)}}, nil
	})
}

// verifySaving tells what readings of power and hours make of a building's saving.
func verifySaving(opts verifyOptions, b *building.Building, args []string, std streams) error {
	if opts.output != "" {
		return exit.Usagef("--output is of the light of one room: --space NAME too, one of %q", b.Names())
	}
	text, err := readReadings(args[1])
	if err != nil {
		return err
	}
	readings, err := realised.Read(args[1], text, b)
	if err != nil {
		return err
	}
	if len(readings) == 0 {
		return exit.Usagef("%s: holds no reading, want watts, hours or counts in the form that `lampswap stations` writes of a building; light is read one space at a time, with --space", args[1])
	}
	r, from := realised.Of(b, readings), origin.Of(b.InputsDigest).With("readings", text)
	var out bytes.Buffer
	if opts.format == "json" {
		err = answer.WriteRealised(&out, r, from)
	} else {
		ledger.WriteRealised(&out, r, from)
	}
	if err != nil {
		return err
	}
	if _, err := out.WriteTo(std.out); err != nil {
		return err
	}
	if !r.Proven() {
		return exit.ErrNotMet
	}
	return nil
}
