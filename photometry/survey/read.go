package survey

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"lampswap/photometry/diag"
)

// MaxBytes is the size above which a file of readings is refused.
const MaxBytes = 4 << 20

// Bounds of what is read of a file.
const (
	mostFaults   = 100 // after so many the rest is not read
	mostColumns  = 1000
	mostReadings = 20_000 // each of which may be of a place of its own, whose light is then worked out
)

// Read reads a file of readings; name is that of the file in its faults. It is a CSV file with a header: station and reading_fc or
// reading_lx, and if wanted x, y, z (in feet with fc and in meters with lx, or x_ft, x_m and so on), facing_deg, meter_unit, struck_out,
// time, note, photo and key, in any order. An empty reading was not taken. What the meter showed, fc or lx, holds from its line on and goes before
// the header's unit; a reading with a reason in struck_out does not count. Commas, semicolons or tabs separate; a decimal comma is understood unless commas
// separate. Lines that begin with # and the marks of spreadsheets (byte order mark, sep=) are passed over.
//
// It errs with a diag.List of every fault with its place, or with the error of r.
func Read(name string, r io.Reader) (Readings, error) {
	content, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return Readings{}, err
	}
	rd := reader{file: name}
	text := rd.prepare(content)
	if len(rd.faults) == 0 {
		rd.table(text)
	}
	if err := rd.faults.Err(); err != nil {
		return Readings{}, err
	}
	return rd.out, nil
}

// A reader collects readings and faults.
type reader struct {
	file    string
	faults  diag.List
	out     Readings
	columns map[string]int // by the plain name of the column
	width   int            // fields of the header
	mark    decimal
	first   map[string]Reading // the first line of each station that says where it is
	shows   string             // what the meter shows by the last line that says so
}

func (r *reader) fault(line, column int, key, wrong, want string) {
	r.faults.Add(diag.Pos{File: r.file, Line: line, Column: column}, key, wrong, want)
}

// prepare refuses what is no CSV text, and takes away what spreadsheets put before one; places stay what they are.
func (r *reader) prepare(content []byte) []byte {
	content = bytes.TrimPrefix(content, []byte("\uFEFF"))
	switch {
	case len(content) > MaxBytes:
		r.fault(1, 1, "", fmt.Sprintf("is larger than %d bytes", MaxBytes), "a file of readings")
	case diag.UTF16(content):
		r.fault(1, 1, "", diag.WrongUTF16, diag.WantUTF8+", as CSV")
	case bytes.IndexByte(content, 0) >= 0:
		r.fault(1, 1, "", "is not plain text", "a CSV file in UTF-8")
	case bytes.HasPrefix(content, []byte("PK\x03\x04")):
		r.fault(1, 1, "", "is a workbook of a spreadsheet", "the sheet saved as CSV")
	}
	if bytes.IndexByte(content, '\n') < 0 {
		content = bytes.ReplaceAll(content, []byte("\r"), []byte("\n"))
	}
	if len(content) >= 4 && strings.EqualFold(string(content[:4]), "sep=") {
		content = slices.Clone(content)
		content[0] = '#'
	}
	return content
}

// separator is the sign that separates the fields of the header: the first line that is neither empty nor a comment.
func separator(text []byte) rune {
	for line := range bytes.Lines(text) {
		line = bytes.TrimSpace(line)
		if len(line) == 0 || comment(string(line)) {
			continue
		}
		for _, sign := range ";\t" {
			if bytes.ContainsRune(line, sign) {
				return sign
			}
		}
		break
	}
	return ','
}

// comment tells a comment line by its start; a spreadsheet may have put it in quotes.
func comment(field string) bool {
	return strings.HasPrefix(strings.TrimLeft(field, " \t\""), "#")
}

func (r *reader) table(text []byte) {
	records := csv.NewReader(bytes.NewReader(text))
	records.Comma, records.Comment = separator(text), '#'
	records.FieldsPerRecord, records.ReuseRecord = -1, true
	r.mark.separated = records.Comma == ','
	r.first = map[string]Reading{}
	for len(r.faults) < mostFaults {
		record, err := records.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if wrong := new(csv.ParseError); errors.As(err, &wrong) {
			r.fault(wrong.Line, wrong.Column, "", "a quote is out of place or left open", `quotes around a whole field, "" for one inside`)
			continue
		}
		if comment(record[0]) || !slices.ContainsFunc(record, func(f string) bool { return strings.TrimSpace(f) != "" }) {
			continue
		}
		c := cells{reader: r, record: record, place: records.FieldPos}
		if r.columns == nil {
			c.header()
			if len(r.faults) > 0 { // without its columns, no line means anything
				return
			}
			continue
		}
		if len(r.out.Lines) == mostReadings {
			c.fault(0, "", fmt.Sprintf("more than %d readings", mostReadings), "fewer")
			return
		}
		c.line()
	}
	if r.columns == nil && len(r.faults) == 0 {
		r.fault(1, 1, "", "has no header", "station, x, y, z, reading_fc or reading_lx")
	}
}

var plainColumns = []string{"station", "x", "y", "z", "facing_deg", "reading_fc", "reading_lx", "meter_unit", "struck_out", "time", "note", "photo", "key"}

// header reads the names of the columns and the units in them.
func (c cells) header() {
	r := c.reader
	r.columns, r.width = map[string]int{}, len(c.record)
	if r.width > mostColumns {
		c.fault(mostColumns, "", fmt.Sprintf("has more than %d columns", mostColumns), "fewer")
	}
	lengths := map[string]int{} // the units of length that columns name, and where
	for i, field := range c.record[:min(len(c.record), mostColumns)] {
		name := strings.ToLower(strings.TrimSpace(field))
		for _, unit := range []string{"ft", "m"} {
			if axis, ok := strings.CutSuffix(name, "_"+unit); ok && len(axis) == 1 && strings.ContainsAny(axis, "xyz") {
				name, lengths[unit] = axis, i
			}
		}
		_, twice := r.columns[name]
		switch {
		case name == "":
		case name == "reading":
			c.fault(i, name, "names no unit", "reading_fc or reading_lx")
		case !slices.Contains(plainColumns, name):
			c.fault(i, "", fmt.Sprintf("%q is no column", name), nearestColumn(name))
		case twice:
			c.fault(i, name, "stands twice", "one column of a name")
		default:
			r.columns[name] = i
		}
	}
	_, fc := r.columns["reading_fc"]
	_, lx := r.columns["reading_lx"]
	if fc {
		r.out.Unit = Footcandles
	}
	if fc && lx {
		c.fault(r.columns["reading_lx"], "reading_lx", "stands beside reading_fc", "one unit a file")
	}
	if len(r.faults) > 0 {
		return
	}
	if !fc && !lx {
		c.fault(0, "", "the header has no readings", "a column reading_fc or reading_lx")
	}
	if _, ok := r.columns["station"]; !ok {
		c.fault(0, "", "the header has no stations", "a column station")
	}
	for unit, i := range lengths {
		if unit != r.out.Unit.length() {
			c.fault(i, "", "has lengths in "+unit+" beside readings in "+r.out.Unit.String(), "x_ft with reading_fc, x_m with reading_lx")
		}
	}
}

func nearestColumn(name string) string {
	if near := diag.Nearest(name, plainColumns); near != "" {
		return near + ", perhaps"
	}
	return "one of " + strings.Join(plainColumns, ", ")
}

// line reads one line of readings.
func (c cells) line() {
	r := c.reader
	before := len(r.faults)
	if len(c.record) > r.width { // empty or not: a decimal comma has moved the rest of the line, perhaps
		c.fault(r.width, "", "is one field more than the header has",
			"quotes around a note with a comma in it, and decimal points where commas separate")
		return
	}
	unit := r.out.Unit
	l := Reading{Station: c.text("station"), Key: c.text("key"), StruckOut: c.text("struck_out"), Time: c.text("time"), Note: c.text("note"), Photo: c.text("photo")}
	l.Pos.File = r.file
	l.Pos.Line, l.Pos.Column = c.place(0)
	switch {
	case l.Station == "":
		c.faultAt("station", "is missing", "the name of the station that was read")
	case len(l.Station) > mostName || strings.HasPrefix(l.Station, "#") || diag.Visible(l.Station) != l.Station:
		c.faultAt("station", "is no name", fmt.Sprintf("up to %d letters and digits, no # before them", mostName))
	}
	l.Position.X = c.number("x", -mostLength, mostLength, "a place in the room") * unit.meter()
	l.Position.Y = c.number("y", -mostLength, mostLength, "a place in the room") * unit.meter()
	l.Position.Z = c.number("z", -mostLength, mostLength, "a height above the floor") * unit.meter()
	l.FacingDeg = c.number("facing_deg", -360, 360, "an azimuth, degrees counter-clockwise from +x")
	l.MeterUnit = c.meterUnit()
	shown := unit
	if l.MeterUnit != "" {
		shown = meterUnits[l.MeterUnit]
	}
	l.Value = c.number("reading_"+unit.String(), 0, mostLux/shown.LuxEach(), "what the meter showed, or nothing if it was not read") * shown.LuxEach()
	l.Step = step(c.text("reading_"+unit.String())) * shown.LuxEach()
	if n := len(l.StruckOut); n > 0 && n < shortestReason {
		c.faultAt("struck_out", fmt.Sprintf("%.40q is no reason", l.StruckOut), "why the reading does not count, in words, as: own shadow, read again")
	}
	if n := len(l.Time); r.mark.separated && n > 0 && n < 4 && strings.Trim(l.Time, "0123456789") == "" {
		c.faultAt("time", fmt.Sprintf("%.40q is no time", l.Time), "a time as 21:05; or is it what follows a decimal comma")
	}
	if len(r.faults) > before {
		return
	}
	if math.IsNaN(l.Position.X) != math.IsNaN(l.Position.Y) {
		c.faultAt("x", "stands without the other of x and y", "both or neither")
		return
	}
	c.samePlace(l)
	r.out.Lines = append(r.out.Lines, l)
}

// A reason to strike a reading out has this many letters at least: a cross or a yes is none.
const shortestReason = 4

var meterUnits = map[string]Unit{Footcandles.String(): Footcandles, Lux.String(): Lux}

// step is one of the last digit of a number as it is written, NaN of none.
func step(number string) float64 {
	if number == "" {
		return math.NaN()
	}
	_, decimals, _ := strings.Cut(strings.Replace(number, ",", ".", 1), ".")
	return math.Pow10(-len(decimals))
}

// meterUnit returns what the meter shows by this line, or by the last one above it that says so.
func (c cells) meterUnit() string {
	switch said := strings.ToLower(c.text("meter_unit")); said {
	case "":
	case "lx", "lux":
		c.reader.shows = "lx"
	case "fc", "footcandle", "footcandles", "foot-candles", "ftc", "ft-c":
		c.reader.shows = "fc"
	default:
		c.faultAt("meter_unit", fmt.Sprintf("%.40q is no unit of light", said), "what the meter shows: fc or lx")
	}
	return c.reader.shows
}

// samePlace compares the places of the lines of one station.
func (c cells) samePlace(l Reading) {
	if !l.Placed() {
		return
	}
	first, known := c.reader.first[l.Station]
	if !known {
		c.reader.first[l.Station] = l
		return
	}
	apart := l.Position.Sub(first.Position).Length()
	if math.IsNaN(apart) {
		apart = inPlan(l.Position, first.Position)
	}
	if apart > sameSpot {
		c.faultAt("station", fmt.Sprintf("%s lies elsewhere than on line %d", l.Station, first.Pos.Line),
			"one place for a station, or another name")
	}
}

// valid is text in UTF-8 whatever the file's encoding was.
func valid(text string) string { return strings.ToValidUTF8(text, string(utf8.RuneError)) }
