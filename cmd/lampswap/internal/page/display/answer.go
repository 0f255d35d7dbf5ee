// Package display answers what the page shows of a result, of what is tried beside it, and of readings: values for templates, without HTTP.
package display

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// An Answer is the light of a job as the page shows it.
type Answer struct {
	Word, Sentence string
	Good           string // "yes", "no" or "open", for the look
	Unit           string
	Before, After  string
	Change         string
	Systems        []string // their names
	Layers         []string // of the plan: light of each system, and the change
	Ruler          rulerView
	Rules          []ruleView
	Maps           []placeView
	Glare          *glareView
	Ledgers        []ledgerView
	Notes          []ledger.Note
	Took           string
}

// A ruleView is one criterion with what the systems make of it.
type ruleView struct {
	Name, Where, Required string
	Reached               []reachedView
	Source                string
}

// A reachedView is what a system reaches of a criterion; a margin, or why there is none, is told of the proposed.
type reachedView struct {
	System, Text, Margin string
	Met                  bool
}

// A placeView is a grid with its maps.
type placeView struct {
	Name  string
	Index int
	Open  bool
	Maps  []mapView
	Stats []statView
	Light lightView
}

// A statView is a number of each system.
type statView struct {
	Name   string
	Values []string
}

type mapView struct {
	Which, Title, Words string
	Key                 string // digest of what it shows, part of its address
	Width, Height       int    // so that the page keeps its place
}

type ledgerView struct {
	Name     string
	Columns  []string
	Sections []ledger.Section
}

// goodOf is the class that colours a verdict.
func goodOf(standing study.Standing) string {
	switch standing {
	case study.AllMet:
		return "yes"
	case study.OneMissed:
		return "no"
	case study.Qualified, study.Unjudged:
	}
	return "open"
}

// AnswerOf shows a result, and how long it took.
func AnswerOf(r *study.Result, took time.Duration) *Answer {
	view := units.Of(r.Job)
	before, after := r.Existing().Grids[0].Statistics, r.Proposed().Grids[0].Statistics
	v := &Answer{Unit: view.Illuminance, Before: number.Digits(before.Average / view.Lux), After: number.Digits(after.Average / view.Lux),
		Change: typeset.Text(number.Percent(before.Average, after.Average)), Notes: notesOf(r)}
	v.Word, v.Sentence = ledger.Answer(r)
	v.Sentence = typeset.Text(v.Sentence)
	v.Good = goodOf(r.Standing())
	v.Ruler = rulerOf(r, view)
	for _, side := range r.Sides {
		v.Systems = append(v.Systems, side.Name)
	}
	v.Layers = append(slices.Clone(v.Systems), "change")
	for _, c := range r.Verdicts {
		v.Rules = append(v.Rules, ruleViewOf(r, view, c))
	}
	for i, g := range r.Existing().Grids {
		place := placeView{Name: g.Label(), Index: i, Open: i == 0}
		sheet := figures.LightSheet(r, i)
		for m, which := range figures.MapNames[:len(sheet.Maps)] {
			figure := PageMap(sheet, m)
			width := MapWidths["wide"] * vg.Inch
			place.Maps = append(place.Maps, mapView{Which: which, Title: figure.Title, Words: figure.Describe(), Key: MapKey(figure),
				Width: 1000, Height: int(1000 * figure.Height(width) / width)})
		}
		place.Light = lightViewOf(r, i, sheet)
		place.Stats = statsOf(r, i, view.Lux)
		v.Maps = append(v.Maps, place)
	}
	v.Glare = glareOf(r)
	for _, l := range []ledger.Ledger{ledger.Groups(r), ledger.BeforeAfter(r), ledger.Ways(r)} {
		if len(l.Sections) > 0 {
			v.Ledgers = append(v.Ledgers, ledgerViewOf(l))
		}
	}
	v.Took = fmt.Sprintf("%.2f s", took.Seconds())
	return v
}

func statsOf(r *study.Result, grid int, lux float64) []statView {
	var all []statView
	for _, stat := range []struct {
		name string
		unit float64
		of   func(s room.Statistics) float64
	}{
		{"average", lux, func(s room.Statistics) float64 { return s.Average }},
		{"minimum", lux, func(s room.Statistics) float64 { return s.Minimum }},
		{"maximum", lux, func(s room.Statistics) float64 { return s.Maximum }},
		{"average to minimum", 1, func(s room.Statistics) float64 { return s.AverageToMinimum }},
	} {
		v := statView{Name: stat.name}
		for _, side := range r.Sides {
			v.Values = append(v.Values, number.Digits(stat.of(side.Grids[grid].Statistics)/stat.unit))
		}
		all = append(all, v)
	}
	return all
}

// ledgerViewOf gives every row a cell for every column, with the signs that paper has.
func ledgerViewOf(l ledger.Ledger) ledgerView {
	v := ledgerView{Name: l.Name, Columns: l.Columns}
	for _, s := range l.Sections {
		section := ledger.Section{Name: typeset.Text(s.Name)}
		for _, row := range s.Rows {
			cells := make([]ledger.Cell, len(l.Columns))
			for k, c := range row.Cells {
				cells[k] = ledger.Cell{Text: typeset.Text(c.Text), Value: c.Value}
			}
			section.Rows = append(section.Rows, ledger.Row{Label: typeset.Text(row.Label), Cells: cells})
		}
		v.Sections = append(v.Sections, section)
	}
	return v
}

// notesOf are the notes with the signs that paper has.
func notesOf(r *study.Result) []ledger.Note {
	notes := ledger.Notes(r)
	for i, n := range notes {
		notes[i].Items = nil
		for _, item := range n.Items {
			notes[i].Items = append(notes[i].Items, typeset.Text(item))
		}
	}
	return notes
}

func ruleViewOf(r *study.Result, view units.Units, c study.Verdict) ruleView {
	sign := "at most "
	if c.AtLeast {
		sign = "at least "
	}
	more := c.Finer(r.Job.Imperial)
	show := func(x float64) string { return number.Finer(view.Statistic(c.Statistic, x), more) }
	margin := strings.TrimPrefix(ledger.Margin(c), ", ")
	if !c.Proposed().Met && c.Met(c.Proposed().Value) {
		margin = "not known: used outside its rating"
	}
	if why := c.Proposed().Why; why != "" {
		margin = typeset.Text(map[bool]string{true: why, false: "not known: " + why}[c.Proposed().Met])
	}
	v := ruleView{Name: c.Name, Where: c.Statistic.Words() + ", " + c.Grid, Source: c.Source,
		Required: sign + typeset.Text(wording.Quantity(r.Job, c.Criterion, c.RequiredIn(false), more))}
	for i, side := range r.Sides {
		v.Reached = append(v.Reached, reachedView{System: side.Name, Text: show(c.By[i].Value), Met: c.By[i].Met})
	}
	v.Reached[1].Margin = margin
	return v
}

// A rulerView shows averages of the work plane as lit tubes on one scale. Places are in percent of its width, heights in pixels.
type rulerView struct {
	Unit   string
	Tubes  []tubeView
	Ticks  []tickView
	Marks  []tickView // what is asked of the average
	Words  string
	Least  string // the minimum of each
	Bottom int    // where ticks end
	Height int
}

type tubeView struct {
	Name, Look  string
	Top         int
	End, Least  string // of the average, and of the dimmest point
	Text        string
	LeastText   string
	TextOutside bool // the tube is too short to hold its text
}

type tickView struct {
	At, Text string
	Last     bool
}

// tubeLooks are the classes of existing, proposed and replacement.
var tubeLooks = []string{"before", "after", "instead"}

// From the top of one tube to that of the next, and of the first.
const tubeStep, firstTube = 42, 30

func rulerOf(r *study.Result, view units.Units) rulerView {
	most := 0.0
	for _, side := range r.Sides {
		most = max(most, side.Grids[0].Statistics.Average)
	}
	var required []float64
	for _, c := range r.Verdicts {
		if c.Statistic == levels.Average && c.AtLeast && c.Grid == r.Existing().Grids[0].Name {
			required = append(required, c.RequiredIn(false))
			most = max(most, c.RequiredIn(false))
		}
	}
	step := tickStep(most * 1.08 / view.Lux)
	full := step * max(1, math.Ceil(most*1.08/view.Lux/step)) // one step where all is dark
	at := func(lux float64) string { return fmt.Sprintf("%.2f%%", 100*lux/view.Lux/full) }
	v := rulerView{Unit: view.Illuminance, Bottom: firstTube + tubeStep*len(r.Sides) - 4}
	v.Height = v.Bottom + 22
	var told, least []string
	for i, side := range r.Sides {
		light := side.Grids[0].Statistics
		v.Tubes = append(v.Tubes, tubeView{Name: side.Name, Look: tubeLooks[i], Top: firstTube + i*tubeStep, End: at(light.Average), Least: at(light.Minimum),
			Text: number.Digits(light.Average / view.Lux), LeastText: number.Digits(light.Minimum / view.Lux), TextOutside: light.Average/view.Lux/full < 0.4})
		told = append(told, side.Name+" "+r.Job.Light(light.Average))
		least = append(least, side.Name+" "+v.Tubes[i].LeastText)
	}
	v.Words, v.Least = "Average on the work plane: "+strings.Join(told, ", "), strings.Join(least, ", ")
	for i := 0; float64(i)*step < full*1.001; i++ {
		x := float64(i) * step
		v.Ticks = append(v.Ticks, tickView{At: fmt.Sprintf("%.2f%%", 100*x/full), Text: fmt.Sprintf("%.6g", x), Last: x > full*0.97})
	}
	slices.Sort(required)
	required = slices.Compact(required)
	for i, lux := range required {
		mark := tickView{At: at(lux), Last: lux/view.Lux > 0.8*full}
		if i == len(required)-1 { // the words of lines that lie close would run into each other
			mark.Text = number.Digits(lux / view.Lux)
		}
		v.Marks = append(v.Marks, mark)
		v.Words += "; required " + r.Job.Light(lux)
	}
	return v
}

// tickStep is 1, 2 or 5 times a power of ten, so that there are four to nine steps.
func tickStep(most float64) float64 {
	if !(most > 0) || math.IsInf(most, 0) {
		return 1
	}
	step := math.Pow(10, math.Floor(math.Log10(most)))
	for _, part := range []float64{5, 2, 1} {
		if most/(step/part) >= 4 && most/(step/part) < 10 {
			return step / part
		}
	}
	return step / 5
}

// MapAt is the place of a map on the sheets of a result, by its name; -1 if it has none.
func MapAt(r *study.Result, name string) int {
	return slices.Index(figures.MapNames[:len(r.Sides)+1], name)
}

// MapWidths are the widths of a map on a desk and on a phone, inches.
var MapWidths = map[string]vg.Length{"wide": 6.8, "narrow": 3.4}

// PageMap is a map of a sheet as the page shows it, its title above it.
func PageMap(sheet plots.Sheet, i int) plots.Map {
	m := sheet.Maps[i]
	m.Caption = ""
	return m
}

// MapKey is a digest of all that a map shows. It is part of the map's address, so that a browser draws a map anew when its light changes and
// not when a price does.
func MapKey(m plots.Map) string {
	h := sha256.New()
	for _, values := range [][]float64{m.X, m.Y, m.Values} {
		_ = binary.Write(h, binary.LittleEndian, int64(len(values))) // to a hash, which takes everything
		_ = binary.Write(h, binary.LittleEndian, values)
	}
	if m.NorthDeg != nil {
		fmt.Fprintln(h, "north", *m.NorthDeg)
	}
	m.X, m.Y, m.Values, m.NorthDeg = nil, nil, nil, nil
	fmt.Fprintf(h, "%+v", m)
	return hex.EncodeToString(h.Sum(nil)[:10])
}
