package main

import (
	"bytes"
	"path/filepath"
	"strings"

	"gonum.org/v1/plot/vg"

	"lampswap/photometry/levels"
	"lampswap/photometry/study"
	"lampswap/plots"
)

const frontWidthIn = 7.5

// formatOf is the format of a figure by the name of its file.
func formatOf(path string) string {
	return strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
}

// writeFront draws light against power to a file.
func writeFront(path string, o *study.Options) error {
	var b bytes.Buffer
	if err := plots.Write(&b, frontOf(o), formatOf(path), frontWidthIn*vg.Inch, 0); err != nil {
		return err
	}
	return writeFile(path, b.Bytes())
}

// frontOf is the trade-off between light and power as a figure. Levels for the average of the work plane are lines in it.
func frontOf(o *study.Options) plots.Front {
	f := plots.Front{Title: o.Job.Title, Subtitle: "Lamps and ballasts for the fixtures: light against power", PerArea: true, Imperial: o.Job.Imperial}
	for _, p := range o.Points() {
		f.Options = append(f.Options, plots.Option{Name: p.Name, Role: roleOf(p.Existing, p.Proposed), Power: p.PowerDensity, Light: p.Average, Meets: p.Meets})
	}
	for _, c := range o.Job.Criteria {
		if c.Grid == o.List[0].Light.Grids[0].Name && c.Statistic == levels.Average && c.AtLeast {
			f.Levels = append(f.Levels, plots.Level{Name: c.Name, Value: c.RequiredIn(false)})
		}
	}
	return f
}
