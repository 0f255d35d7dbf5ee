// Package export writes a result for spreadsheets: the ledger and the points of grids as CSV, and all of it as a workbook.
package export

import (
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// GridNames are the grids of a job's results, in their order.
func GridNames(j *job.Job) []string {
	names := []string{j.Room.WorkPlaneGrid(j.Spacing).Name}
	for _, g := range j.Grids {
		names = append(names, g.Name)
	}
	if j.Egress != nil {
		names = append(names, j.Egress.Name)
	}
	return names
}

// LedgerCSV writes the before-and-after ledger, a line a quantity: numbers at full precision, the change as a fraction of the existing. Of a job with
// a replacement a last column says of that what "required" says of the proposed.
func LedgerCSV(w io.Writer, r *study.Result) error {
	l := ledger.BeforeAfter(r)
	out := csv.NewWriter(w)
	lines, third := [][]string{append([]string{"section", "quantity", "unit"}, l.Columns...)}, slices.Index(l.Columns, "replacement")
	if third >= 0 {
		lines[0] = append(lines[0], "replacement_required")
	}
	l.Sections = append(groupSections(r), l.Sections...)
	for _, s := range l.Sections {
		for _, row := range s.Rows {
			section, quantity, unit := unitApart(s.Name, row.Label)
			if slices.ContainsFunc(row.Cells, l.IsMoney) {
				unit = l.Currency
			}
			line := []string{section, quantity, unit}
			for k := range l.Columns {
				line = append(line, plainCell(row, k))
			}
			if third >= 0 {
				line = append(line, row.RequiredOf(third))
			}
			lines = append(lines, line)
		}
	}
	return out.WriteAll(signed(lines, r))
}

// groupSections are the groups of luminaires in the columns of the before-and-after ledger: a section a group.
func groupSections(r *study.Result) []ledger.Section {
	groups := ledger.Groups(r)
	if len(groups.Sections) == 0 {
		return nil
	}
	var all []ledger.Section
	for i, row := range groups.Sections[0].Rows {
		s := ledger.Section{Name: "Group " + row.Label}
		for k, name := range groups.Columns {
			var cells []ledger.Cell
			for n, side := range groups.Sections {
				cell := ledger.Word("")
				if k < len(side.Rows[i].Cells) {
					cell = side.Rows[i].Cells[k]
				}
				if n == 2 {
					cells = append(cells, ledger.Word("")) // of the change
				}
				cells = append(cells, cell)
			}
			s.Rows = append(s.Rows, ledger.Row{Label: name, Cells: cells})
		}
		all = append(all, s)
	}
	return all
}

// signed adds two columns at the end of a table, whose first line says what made it. A reader of the columns before them sees nothing of it,
// where a line of its own would be read as one of the table.
func signed(lines [][]string, r *study.Result) [][]string {
	return signedBy(lines, origin.Of(r.Job.InputsDigest))
}

func signedBy(lines [][]string, from origin.Origin) [][]string {
	for i := range lines {
		cells := [2]string{}
		switch i {
		case 0:
			cells = [2]string{"version", "inputs_digest"}
		case 1:
			cells = [2]string{from.Version, from.Digest}
		}
		lines[i] = append(lines[i], cells[:]...)
	}
	return lines
}

// plainCell is a cell without its looks: a number, or words, or nothing.
func plainCell(row ledger.Row, k int) string {
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
	return strconv.FormatFloat(x+0, 'g', -1, 64) // no sign before a zero
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
func placed(v units.Units, m float64) string { return exact(number.Round(m/v.Meter, 1e-9)) }

// GridCSV writes the points of a grid, a line a point: where it is in the room, the maintained light of each system and the change,
// and of what the initial light is made. A point inside a rack has a place and no light.
func GridCSV(w io.Writer, r *study.Result, i int) error {
	v, sides := units.Of(r.Job), r.Sides
	header := []string{"x_" + v.Length, "y_" + v.Length, "height_" + v.Length}
	for _, side := range sides {
		header = append(header, side.Name+"_"+v.Illuminance)
	}
	header = append(header, "change_"+v.Illuminance)
	for _, side := range sides {
		header = append(header, side.Name+"_initial_direct_"+v.Illuminance, side.Name+"_initial_interreflected_"+v.Illuminance)
	}
	lines := [][]string{header}
	for iy := range sides[0].Grids[i].NY {
		for ix := range sides[0].Grids[i].NX {
			p, k := sides[0].Grids[i].Point(ix, iy), iy*sides[0].Grids[i].NX+ix
			line := []string{placed(v, p.X), placed(v, p.Y), placed(v, p.Z)}
			for _, side := range sides {
				line = append(line, exact(side.Grids[i].Maintained[k]/v.Lux))
			}
			line = append(line, exact((sides[1].Grids[i].Maintained[k]-sides[0].Grids[i].Maintained[k])/v.Lux))
			for _, side := range sides {
				line = append(line, exact(side.Grids[i].Direct[k]/v.Lux), exact(side.Grids[i].Interreflected[k]/v.Lux))
			}
			lines = append(lines, line)
		}
	}
	return csv.NewWriter(w).WriteAll(signed(lines, r))
}
