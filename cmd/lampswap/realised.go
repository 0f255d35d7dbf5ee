package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/record"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/photometry/building"
	"lampswap/photometry/realised"
)

// powerForm is the name of the form for power and hours of a building.
const powerForm = "power.csv"

// planBuilding tells what is to be read of a building's power and hours, and of the light of its spaces, and writes the forms. One that is filled in
// is never written over.
func planBuilding(opts stationsOptions, b *building.Building, args []string, std streams) error {
	if opts.format != "text" {
		return exit.Usagef("--format json is of the stations of one room: --space NAME too, one of %q", b.Names())
	}
	names := []string{powerForm}
	for i, s := range b.Spaces {
		names = append(names, figures.FileName(i, s.Name)+"-"+stations.FormName)
	}
	target, err := files.ToFolder("--output", opts.output, jobs.InputsOf(b.InputNames, args), names...)
	if err != nil {
		return err
	}
	opts.power = true
	if err := opts.powerUnwritten(target); err != nil {
		return err
	}
	spaces := make([]stations.Space, len(b.Spaces))
	for i, s := range b.Spaces {
		wanted := opts.wanted(s.Job)
		wanted.Copies = s.Copies
		m, err := stations.Of(s.Job, opts.system, wanted)
		if err != nil {
			return fmt.Errorf("%s: %w", s.Name, err)
		}
		spaces[i] = stations.Space{Space: s, Measurement: m, Prefix: strings.TrimSuffix(names[i+1], stations.FormName)}
		if err := stations.Unfilled(target.Path(), names[i+1]); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	ledger.WriteToLog(&out, realised.Of(b, nil))
	stations.WriteWalk(&out, spaces, origin.Of(b.InputsDigest))
	return deliver(&out, std.out, opts.format, target, func() ([]files.File, error) {
		all := []files.File{{Name: powerForm, Content: realised.Form(b)}}
		for _, s := range spaces {
			made, err := stationsFiles(s.Job, s.Measurement, std)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", s.Name, err)
			}
			for _, f := range made {
				f.Name = s.Prefix + f.Name
				all = append(all, f)
			}
		}
		return all, nil
	})
}

// powerUnwritten is an error where a form for watts and hours is asked for and is there already.
func (o *stationsOptions) powerUnwritten(target files.Target) error {
	if _, err := os.Lstat(filepath.Join(target.Path(), powerForm)); o.power && target.Asked() && err == nil {
		return exit.Usagef("%s in %s is there already, and may be filled in: want another folder", powerForm, target.Path())
	}
	return nil
}

// powerOf reads a file of watts and hours of a building.
func powerOf(b *building.Building, path string) (text []byte, r *realised.Result, err error) {
	if text, err = readReadings(path); err != nil {
		return nil, nil, err
	}
	readings, err := realised.Read(path, text, b)
	if err != nil {
		return nil, nil, err
	}
	if len(readings) == 0 {
		return nil, nil, exit.Usagef("%s: holds no reading, want watts, hours or counts in the form that `lampswap stations` writes of a building, and stations --power of a job", path)
	}
	return text, realised.Of(b, readings), nil
}

// verifySaving tells what readings of power and hours make of a building's saving, and what those of light prove in the spaces that --light names.
func verifySaving(ctx context.Context, opts verifyOptions, wrong error, b *building.Building, args []string, std streams) error {
	switch {
	case opts.power != "":
		return exit.Usagef("--power stands beside a building, whose watts and hours are the second argument already")
	case len(opts.light) > 0 && wrong != nil: // the meter of light, and the day
		return wrong
	}
	text, r, err := powerOf(b, args[1])
	if err != nil {
		return err
	}
	from := origin.Of(b.InputsDigest).With("readings", text)
	inputs := jobs.InputsOf(b.InputNames, args)
	var light []ledger.SpaceLight
	proven := r.Proven()
	for _, of := range opts.light {
		name, path, _ := strings.Cut(of, "=")
		s := b.Find(strings.TrimSpace(name))
		if s == nil || path == "" {
			return exit.Usagef("--light is %q, want SPACE=READINGS.csv with one of %q", of, b.Names())
		}
		if slices.ContainsFunc(light, func(l ledger.SpaceLight) bool { return l.Space == s.Name }) {
			return exit.Usagef("--light names %q twice, want one file of readings a space", s.Name)
		}
		p, opened, err := proofOf(ctx, s.Job, opts, path, std)
		if err != nil {
			return err
		}
		light = append(light, ledger.SpaceLight{Space: s.Name, Job: s.Job, Found: p.Found})
		from, inputs = from.With(s.Name, []byte(p.From.Digest)), append(append(inputs, path), opened...)
		proven = proven && p.Found.Proven()
	}
	target, err := files.ToFolder("--output", opts.output, inputs)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if opts.format == "json" {
		err = answer.WriteRealised(&out, r, light, from)
	} else {
		ledger.WriteRealised(&out, r, light, from)
	}
	if err != nil {
		return err
	}
	if err := deliver(&out, std.out, opts.format, target, func() ([]files.File, error) {
		return record.ReportFiles(record.SavingReport(r, light, from), b.Whole)
	}); err != nil {
		return err
	}
	if !proven {
		return exit.ErrNotMet
	}
	return nil
}
