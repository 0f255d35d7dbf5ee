package survey

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"

	"lampswap/photometry/room"
)

// Instructions are the comment lines that go with a form.
func Instructions(unit Unit) []string {
	return []string{
		"Write what the meter shows into reading_" + unit.String() + "; leave it empty where nothing was read. " +
			"Lengths are in " + unit.length() + ".",
		"Write into meter_unit what your meter shows, fc or lx, on the first line that you read; it holds for those below.",
		"To read a station again, copy its line and write the time of the second reading: the mean counts, and the scatter tells how well a reading can be repeated. " +
			"A reading that does not count stays, with the reason in struck_out.",
		"time and note are yours; photo is the name of a picture (JPEG or PNG) in the folder of this file. Places are rounded; key is the exact one, leave it. A reading of your own: a new name with x, y, z and no key. Lines that begin with # are not read.",
	}
}

// Write writes the readings as a CSV file, with comment lines before the header: station, x, y, z, facing where a sensor stands
// upright, reading, the meter's unit, why it is struck out, time, note. It writes in the readings' unit; what Read reads of it differs from them by rounding only. It errs
// if w does.
func (r Readings) Write(w io.Writer, comments ...string) error {
	var text strings.Builder
	for _, c := range comments {
		for _, line := range strings.FieldsFunc(c, func(r rune) bool { return r == '\n' || r == '\r' }) {
			text.WriteString("# " + line + "\n")
		}
	}
	if _, err := io.WriteString(w, text.String()); err != nil {
		return err
	}
	upright := false
	for _, l := range r.Lines {
		upright = upright || !math.IsNaN(l.FacingDeg)
	}
	length := r.Unit.length()
	header := []string{"station", "x_" + length, "y_" + length, "z_" + length}
	if upright {
		header = append(header, "facing_deg")
	}
	out := csv.NewWriter(w)
	if err := out.Write(append(header, "reading_"+r.Unit.String(), "meter_unit", "struck_out", "time", "note", "photo", "key")); err != nil {
		return err
	}
	for _, l := range r.Lines {
		at := l.Position.Scale(1 / r.Unit.meter())
		if l.Key != "" { // which has the exact place
			at = r.Unit.rounded(at)
		}
		record := append([]string{l.Station}, coordinates(at)...)
		if upright {
			record = append(record, shortest(l.FacingDeg))
		}
		shown := r.Unit
		if l.MeterUnit != "" {
			shown = meterUnits[l.MeterUnit]
		}
		if err := out.Write(append(record, shortest(l.Value/shown.LuxEach()), l.MeterUnit, l.StruckOut, l.Time, l.Note, l.Photo, l.Key)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// rounded is a place to a tenth of a foot, or to a centimeter.
func (u Unit) rounded(at room.Vec) room.Vec {
	steps := 100.0
	if u == Footcandles {
		steps = 10
	}
	near := func(x float64) float64 { return math.Round(x*steps) / steps }
	return room.Vec{X: near(at.X), Y: near(at.Y), Z: near(at.Z)}
}

func coordinates(at room.Vec) []string {
	return []string{shortest(at.X), shortest(at.Y), shortest(at.Z)}
}

// shortest writes a number to its last bit, NaN as nothing. What differs from a shorter number by the rounding of a conversion is
// written as that.
func shortest(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	if short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64); err == nil && math.Abs(short-x) <= 1e-14*math.Abs(x) {
		x = short
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}
