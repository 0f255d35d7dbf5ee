package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

// formats are those that check writes.
var formats = []string{"text", "json", "csv", "xlsx"}

// valid refuses flags that do not go together.
func (o checkOptions) valid() error {
	switch {
	case !slices.Contains(formats, o.format):
		return usageError{fmt.Errorf("--format is %q, want one of %s", o.format, strings.Join(formats, ", "))}
	case o.points && o.format != "json":
		return usageError{fmt.Errorf("--points goes with --format json")}
	case o.grid != "" && o.format != "csv":
		return usageError{fmt.Errorf("--grid goes with --format csv")}
	case o.format == "xlsx" && o.output == "":
		return usageError{fmt.Errorf("--format xlsx needs --output, the file to write")}
	}
	return nil
}

// hasGrid refuses a grid that the job does not have.
func (o checkOptions) hasGrid(j *job.Job) error {
	if names := gridNames(j); o.grid != "" && !slices.Contains(names, o.grid) {
		return usageError{fmt.Errorf("--grid is %q, want one of %q", o.grid, names)}
	}
	return nil
}

// gridNames are the grids of a job's results, in their order.
func gridNames(j *job.Job) []string {
	names := []string{j.Room.WorkPlaneGrid(j.Spacing).Name}
	for _, g := range j.Grids {
		names = append(names, g.Name)
	}
	if j.Egress != nil {
		names = append(names, j.Egress.Name)
	}
	return names
}

// write writes the result in the format that is asked for.
func (o checkOptions) write(w *bytes.Buffer, r *study.Result) error {
	switch {
	case o.format == "json":
		return writeJSON(w, r, o.points)
	case o.format == "xlsx":
		return writeXLSX(w, r)
	case o.grid != "":
		return writeGridCSV(w, r, slices.Index(gridNames(r.Job), o.grid))
	case o.format == "csv":
		return writeLedgerCSV(w, r)
	}
	writeLedger(w, r)
	return nil
}

// deliver puts the result into the file that is asked for and names it on stdout, else writes it there.
func (o checkOptions) deliver(content []byte, stdout io.Writer) error {
	if o.output == "" {
		_, err := stdout.Write(content)
		return err
	}
	if err := writeFile(o.output, content); err != nil {
		return err
	}
	fmt.Fprintln(stdout, o.output)
	return nil
}

// writeLedgerCSV writes the before-and-after ledger, a line a quantity: numbers at full precision, the change as a fraction of the existing.
func writeLedgerCSV(w io.Writer, r *study.Result) error {
	l := beforeAfter(r)
	out := csv.NewWriter(w)
	lines := [][]string{append([]string{"section", "quantity", "unit"}, l.Columns...)}
	for _, s := range l.Sections {
		for _, row := range s.Rows {
			section, quantity, unit := unitApart(s.Name, row.Label)
			line := []string{section, quantity, unit}
			for k := range l.Columns {
				line = append(line, plainCell(row, k))
			}
			lines = append(lines, line)
		}
	}
	return out.WriteAll(lines)
}

// plainCell is a cell without its looks: a number, or words, or nothing.
func plainCell(row ledgerRow, k int) string {
	switch {
	case k >= len(row.Cells):
		return ""
	case !math.IsNaN(row.Cells[k].Value):
		return exact(row.Cells[k].Value)
	case row.Cells[k].Text == "-":
		return ""
	}
	return row.Cells[k].Text
}

// exact is a number at full precision; nothing where there is none.
func exact(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// unitApart takes the unit off the name of a section or off the label of a row. The unit of a section is that of its rows, but for those
// that are ratios.
func unitApart(section, label string) (name, quantity, unit string) {
	units := []string{"fc", "lx", "lm", "W", "W/ft2", "W/m2", "kW", "kWh", "years", "%"}
	apart := func(s string) (string, string) {
		if at := strings.LastIndex(s, ", "); at >= 0 && slices.Contains(units, s[at+2:]) {
			return s[:at], s[at+2:]
		}
		return s, ""
	}
	name, unit = apart(section)
	quantity, own := apart(label)
	ratio := strings.Contains(label, " ratio") || strings.Contains(label, " to minimum") || strings.Contains(label, "coefficient") ||
		strings.Contains(label, " over criterion") || strings.Contains(label, "criteria met")
	switch {
	case own != "":
		unit = own
	case ratio:
		unit = ""
	}
	return name, quantity, unit
}

// placed is a length, m, in the job's unit, free of the noise of its conversion.
func (v view) placed(m float64) string { return exact(round(m/v.meter, 1e-9)) }

// writeGridCSV writes the points of a grid, a line a point: where it is in the room, the maintained light of each system and the change,
// and of what the initial light is made. A point inside a rack has a place and no light.
func writeGridCSV(w io.Writer, r *study.Result, i int) error {
	v, sides := viewOf(r), r.Sides()
	header := []string{"x_" + v.length, "y_" + v.length, "height_" + v.length}
	for _, side := range sides {
		header = append(header, side.Name+"_"+v.illuminance)
	}
	header = append(header, "change_"+v.illuminance)
	for _, side := range sides {
		header = append(header, side.Name+"_initial_direct_"+v.illuminance, side.Name+"_initial_interreflected_"+v.illuminance)
	}
	lines := [][]string{header}
	for iy := range sides[0].Grids[i].NY {
		for ix := range sides[0].Grids[i].NX {
			p, k := sides[0].Grids[i].Point(ix, iy), iy*sides[0].Grids[i].NX+ix
			line := []string{v.placed(p.X), v.placed(p.Y), v.placed(p.Z)}
			for _, side := range sides {
				line = append(line, exact(side.Grids[i].Maintained[k]/v.lux))
			}
			line = append(line, exact((sides[1].Grids[i].Maintained[k]-sides[0].Grids[i].Maintained[k])/v.lux))
			for _, side := range sides {
				line = append(line, exact(side.Grids[i].Direct[k]/v.lux), exact(side.Grids[i].Interreflected[k]/v.lux))
			}
			lines = append(lines, line)
		}
	}
	return csv.NewWriter(w).WriteAll(lines)
}
