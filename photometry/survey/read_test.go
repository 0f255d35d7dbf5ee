package survey

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/diag"
	"lampswap/photometry/room"
)

func read(t *testing.T, text string) Readings {
	t.Helper()
	r, err := Read("bay.csv", strings.NewReader(text))
	require.NoError(t, err)
	return r
}

const filled = `# Dock, north bay
# read by the inspector, "after dark"
station,x_ft,y_ft,z_ft,reading_fc,time,note
r1,10,20,2.5,21.5,21:05,
r1,10,20,2.5,22.5,21:40,"again, same spot"
r2,15,20,2.5,,,blocked
q1,10,5,2.5,18.1,,
`

func TestReadAFilledForm(t *testing.T) {
	r := read(t, filled)
	assert.Equal(t, Footcandles, r.Unit)
	require.Len(t, r.Lines, 4)
	assert.Equal(t, []string{"r1", "r2", "q1"}, r.Stations())
	l := r.Lines[1]
	assert.True(t, math.IsNaN(l.FacingDeg))
	l.FacingDeg = 0 // NaN is not equal to itself
	assert.Equal(t, Reading{Station: "r1", Position: room.Vec{X: 10 * 0.3048, Y: 20 * 0.3048, Z: 2.5 * 0.3048},
		Value: 22.5 * photometry.Footcandle, Time: "21:40", Step: 0.1 * photometry.Footcandle, Note: "again, same spot", Pos: diag.Pos{File: "bay.csv", Line: 5, Column: 1}}, l)
	assert.False(t, r.Lines[2].Taken())
	assert.Equal(t, "blocked", r.Lines[2].Note)
	means := r.Means()
	assert.Len(t, means, 2)
	assert.InEpsilon(t, 22*photometry.Footcandle, means["r1"], rounding)
	scatter, freedom := r.Scatter()
	assert.Equal(t, 1, freedom)
	assert.InEpsilon(t, math.Sqrt(2*0.5*0.5)/22, scatter, 1e-9)
}

// What spreadsheets and phones make of a file reads the same.
func TestReadTakesWhatSpreadsheetsWrite(t *testing.T) {
	want := read(t, "station,x,y,z,reading_lx,time,note\na,1.5,2,0.8,210.5,,\nb,3,2,0.8,,,\n")
	for name, text := range map[string]string{
		"byte order mark":    "\uFEFFstation,x,y,z,reading_lx,time,note\na,1.5,2,0.8,210.5,,\nb,3,2,0.8,,,\n",
		"CRLF":               "station,x,y,z,reading_lx,time,note\r\na,1.5,2,0.8,210.5,,\r\nb,3,2,0.8,,,\r\n",
		"CR":                 "station,x,y,z,reading_lx,time,note\ra,1.5,2,0.8,210.5,,\rb,3,2,0.8,,,\r",
		"semicolons":         "station;x;y;z;reading_lx;time;note\na;1.5;2;0.8;210.5;;\nb;3;2;0.8;;;\n",
		"decimal commas":     "station;x;y;z;reading_lx;time;note\na;1,5;2;0,8;210,5;;\nb;3;2;0,8;;;\n",
		"tabs":               "station\tx\ty\tz\treading_lx\ttime\tnote\na\t1,5\t2\t0,8\t210,5\t\t\nb\t3\t2\t0,8\t\t\t\n",
		"sep line":           "sep=;\nstation;x;y;z;reading_lx\na;1.5;2;0.8;210.5\nb;3;2;0.8;\n",
		"comments in quotes": "\"# a, b\",,,,,,\n# c;d,,,,,,\nstation,x,y,z,reading_lx,time,note\na,1.5,2,0.8,210.5,,\nb,3,2,0.8,,,\n,,,,,,\n",
		"columns moved":      "Note, READING_LX ,station,z_m,y_m,x_m\n,210.5,a,0.8,2,1.5\n,,b,0.8,2,3\n",
		"ends cut":           "station,x,y,z,reading_lx,time,note\na,1.5,2,0.8,210.5\nb,3,2,0.8\n",
		"empty columns":      "station,x,y,z,reading_lx,,\na,1.5,2,0.8,210.5,,\nb,3,2,0.8,,,\n",
		"spaces":             " station , x, y, z, reading_lx\n a , 1.5, 2,0.8 ,\u00a0210.5\n\n b,3,2,0.8,\n",
	} {
		got := read(t, text)
		for i := range got.Lines {
			got.Lines[i].Pos = want.Lines[i].Pos
		}
		assertSame(t, want, got, name)
	}
	bare := read(t, "station,reading_fc\ndoor,7\n")
	assert.False(t, bare.Lines[0].Placed())
	latin := read(t, "station,reading_fc,note\ndoor,7,caf\xe9\n")
	assert.Equal(t, "caf\uFFFD", latin.Lines[0].Note)
}

// assertSame compares readings, NaN equal to NaN, to the rounding of a conversion of units.
func assertSame(t assert.TestingT, want, got Readings, name string) {
	if !assert.Equal(t, want.Unit, got.Unit, name) || !assert.Len(t, got.Lines, len(want.Lines), name) {
		return
	}
	for i, w := range want.Lines {
		g := got.Lines[i]
		assert.Equal(t, [4]string{w.Station, w.Time, w.Note, w.Photo}, [4]string{g.Station, g.Time, g.Note, g.Photo}, name)
		for _, pair := range [][2]float64{{w.Value, g.Value}, {w.Position.X, g.Position.X}, {w.Position.Y, g.Position.Y},
			{w.Position.Z, g.Position.Z}, {w.FacingDeg, g.FacingDeg}} {
			same := math.IsNaN(pair[0]) && math.IsNaN(pair[1]) || math.Abs(pair[0]-pair[1]) <= 1e-11*math.Abs(pair[0])+1e-300
			assert.True(t, same, "%s: %v became %v", name, pair[0], pair[1])
		}
	}
}

// What a file says wrongly is said with its place, all of it at once.
func TestReadRefusesWithPlaces(t *testing.T) {
	const header = "station,x,y,z,reading_lx,time,note\n"
	for text, want := range map[string]string{
		"":                       "bay.csv:1:1: has no header, want station, x, y, z, reading_fc or reading_lx",
		"# only\n":               "bay.csv:1:1: has no header, want station, x, y, z, reading_fc or reading_lx",
		"station,reading\na,1\n": "bay.csv:1:9: reading: names no unit, want reading_fc or reading_lx",
		"station,reding_fc\n":    `bay.csv:1:9: "reding_fc" is no column, want reading_fc, perhaps`,
		"station,reading_fc,qqqqqq\n": `bay.csv:1:20: "qqqqqq" is no column, want one of station, x, y, z, facing_deg, reading_fc, ` +
			`reading_lx, meter_unit, struck_out, time, note, photo, key`,
		"station,station,reading_fc\n":    "bay.csv:1:9: station: stands twice, want one column of a name",
		"station,reading_fc,reading_lx\n": "bay.csv:1:20: reading_lx: stands beside reading_fc, want one unit a file",
		"x,y\n": "bay.csv:1:1: the header has no readings, want a column reading_fc or reading_lx\n" +
			"bay.csv:1:1: the header has no stations, want a column station",
		"station,x_ft,y_ft,reading_lx\n": "bay.csv:1:14: has lengths in ft beside readings in lx, want x_ft with reading_fc, x_m with reading_lx",
		header + "a,1,2,0.8,bright,,\n,3,2,0.8,7,,\nc,1,2,0.8,-4,,\n": `bay.csv:2:11: reading_lx: "bright" is no number, want what the meter showed, or nothing if it was not read
bay.csv:3:1: station: is missing, want the name of the station that was read
bay.csv:4:11: reading_lx: -4 is out of range, want what the meter showed, or nothing if it was not read, from 0 to 200000`,
		header + "a,1,2,0.8,300000,,\n": "bay.csv:2:11: reading_lx: 300000 is out of range, want what the meter showed, or nothing if it was not read, from 0 to 200000",
		header + "a,1,2,0.8,12,5\n":     `bay.csv:2:14: time: "5" is no time, want a time as 21:05; or is it what follows a decimal comma`,
		header + "a,1,2,0.8,12,5,,\n": "bay.csv:2:17: is one field more than the header has, want quotes around a note with a comma in it, " +
			"and decimal points where commas separate",
		header + "a,1,2,0.8,\"12,5\",,\n": `bay.csv:2:11: reading_lx: "12,5" has a comma, which separates fields in this file, want a decimal point, and no sign between thousands`,
		"station;reading_lx\na;1,5\nb;2.5\n": `bay.csv:3:3: reading_lx: "2.5" has another decimal mark than the rest: the file uses comma and point, ` +
			`want a decimal point, and no sign between thousands`,
		"station;reading_lx\na;1.234,5\n": `bay.csv:2:3: reading_lx: "1.234,5" has another decimal mark than the rest: the file uses comma and point, ` +
			`want a decimal point, and no sign between thousands`,
		header + "a,1,,0.8,7,,\n":                           "bay.csv:2:3: x: stands without the other of x and y, want both or neither",
		header + "a,1,2,0.8,7,,\na,2,2,0.8,7,,\n":           "bay.csv:3:1: station: a lies elsewhere than on line 2, want one place for a station, or another name",
		header + "a,1,2,0.8,\"7,,\n":                        `bay.csv:2:16: a quote is out of place or left open, want quotes around a whole field, "" for one inside`,
		header + "a,1,2,0.8,0x1p3,,\n":                      `bay.csv:2:11: reading_lx: "0x1p3" is no number, want what the meter showed, or nothing if it was not read`,
		header + "a,1,2,0.8,Inf,,\n":                        `bay.csv:2:11: reading_lx: "Inf" is no number, want what the meter showed, or nothing if it was not read`,
		header + strings.Repeat("n", 61) + ",1,2,0.8,7,,\n": "bay.csv:2:1: station: is no name, want up to 60 letters and digits, no # before them",
		"\xff\xfes\x00":                                     "bay.csv:1:1: the file is UTF-16 text, want UTF-8: choose it as the encoding where the editor saves the file, as CSV",
		"PK\x03\x04":                                        "bay.csv:1:1: is a workbook of a spreadsheet, want the sheet saved as CSV",
	} {
		_, err := Read("bay.csv", strings.NewReader(text))
		require.Error(t, err, text)
		require.True(t, errors.As(err, new(diag.List)), text)
		assert.Equal(t, want, err.Error(), text)
	}
}

func TestReadIsBounded(t *testing.T) {
	_, err := Read("bay.csv", bytes.NewReader(bytes.Repeat([]byte("a,"), MaxBytes)))
	require.EqualError(t, err, `bay.csv:1:1: is larger than 4194304 bytes, want a file of readings`)
	_, err = Read("bay.csv", strings.NewReader("station,reading_fc\n"+strings.Repeat("a,x\n", 10000)))
	var faults diag.List
	require.ErrorAs(t, err, &faults)
	assert.Len(t, faults, mostFaults)
	const header = "station,reading_fc\n"
	taken, err := Read("bay.csv", strings.NewReader(header+strings.Repeat("a,1\n", 20_000)))
	require.NoError(t, err)
	assert.Len(t, taken.Lines, 20_000)
	_, err = Read("bay.csv", strings.NewReader(header+strings.Repeat("a,1\n", 500_000)))
	require.EqualError(t, err, "bay.csv:20002:1: more than 20000 readings, want fewer")
	_, err = Read("bay.csv", strings.NewReader("station,reading_fc"+strings.Repeat(",", 998)+"\na,1\n"))
	require.NoError(t, err)
	_, err = Read("bay.csv", strings.NewReader("station,reading_fc"+strings.Repeat(",", 1_000_000)+"\na,1\n"))
	require.EqualError(t, err, "bay.csv:1:1018: has more than 1000 columns, want fewer")
	broken := errors.New("broken")
	_, err = Read("bay.csv", iotest.ErrReader(broken))
	require.ErrorIs(t, err, broken)
}

// A form of several plans is read back as it was written, empty; and the same after filling it in.
func TestFormRoundTrip(t *testing.T) {
	l := Lattice{Length: 36.576, Width: 18.288, WorkPlane: 0.762, Rows: 6, Columns: 12}
	face, err := FaceGrid("face", room.Vec{X: 3, Y: 4}, room.Vec{X: 9, Y: 4}, 0.2, 3, -math.Pi/2)
	require.NoError(t, err)
	for _, unit := range []Unit{Lux, Footcandles} {
		form := Form(unit, plan(t, l), GridPlan(face, "f", nil))
		var text strings.Builder
		require.NoError(t, form.Write(&text, append(Instructions(unit), "two\nlines")...))
		assert.Contains(t, text.String(), "# two\n# lines\nstation,x_"+unit.length())
		assert.Contains(t, text.String(), "facing_deg,reading_"+unit.String())
		back := read(t, text.String())
		for i, l := range back.Lines {
			assert.InDelta(t, form.Lines[i].Position.X, l.Position.X, 0.05*photometry.Foot+1e-9, "a tape's precision")
			assert.Equal(t, form.Lines[i].Key, l.Key)
		}
		whole := Plan{Stations: append(plan(t, l).Stations, GridPlan(face, "f", nil).Stations...)}
		exact, notes, err := back.Match(whole.Stations)
		require.NoError(t, err)
		assert.Empty(t, notes)
		assertSame(t, form, exact, unit.String())
		assert.Empty(t, back.Means())
		assert.InDelta(t, -1, back.Lines[len(back.Lines)-1].Normal().Y, 1e-12)
		assert.Equal(t, room.Vec{Z: 1}, back.Lines[0].Normal())
		form.Lines[0].Value = 215
		text.Reset()
		require.NoError(t, form.Write(&text))
		assert.InEpsilon(t, 215, read(t, text.String()).Means()[form.Lines[0].Station], rounding)
	}
	var text strings.Builder
	require.NoError(t, Form(Footcandles, plan(t, l)).Write(&text))
	assert.Contains(t, text.String(), "\nr1,55,25,2.5,,,,,,,mm16764:7620:762\n", "feet as they were, not as the conversion rounds them")
	assert.NotContains(t, text.String(), "facing")
}

// The key finds the place whatever the station is called; a place of another plan is refused, and a sensor that was moved stays moved.
func TestKeysTieAFormToItsPlan(t *testing.T) {
	p := plan(t, Lattice{Length: 36.576, Width: 18.288, WorkPlane: 0.762, Rows: 6, Columns: 12})
	r := read(t, "station,x,y,z,reading_fc,key\nmine,55,25,2.5,7,mm16765:7620:762\nr2,62,25,2.5,8,mm18288:7620:762\n")
	m, notes, err := r.Match(p.Stations)
	require.NoError(t, err)
	assert.Equal(t, "r1", m.Lines[0].Station)
	assert.Equal(t, p.Stations[0].Position, m.Lines[0].Position)
	require.Len(t, notes, 1)
	assert.Equal(t, "r2", notes[0].Of)
	assert.InDelta(t, 2*photometry.Foot, notes[0].Meters, 1e-9)
	_, _, err = read(t, "station,reading_fc,key\nr1,7,mm1:2:762\nr2,7,nonsense\n").Match(p.Stations)
	assert.EqualError(t, err, `bay.csv:2:1: key: "r1" was planned at a place where no station is now, want the job, plan, grids and number of stations for which the form was written, or no key
bay.csv:3:1: key: "r2" was planned at a place where no station is now, want the job, plan, grids and number of stations for which the form was written, or no key`)
}

// A line that was copied for another station with its key is refused: name and key say two places. Where x and y bear the key out the name is
// that of an older form.
func TestKeysAtOddsWithNames(t *testing.T) {
	p := plan(t, Lattice{Length: 36.576, Width: 18.288, WorkPlane: 0.762, Rows: 6, Columns: 12})
	_, _, err := read(t, "station,x,y,z,reading_fc,key\nr2,60,25,2.5,7,mm16764:7620:762\nr2,60,25,2.5,,mm16764:7620:762\n").Match(p.Stations)
	require.EqualError(t, err, "bay.csv:2:1: key: is that of r1, and the line is named r2, want the key of the station that was read, or none")
	m, _, err := read(t, "station,x,y,z,reading_fc,key\nr2,55,25,2.5,7,mm16764:7620:762\n").Match(p.Stations)
	require.NoError(t, err)
	assert.Equal(t, "r1", m.Lines[0].Station)
	_, _, err = read(t, "station,reading_fc,key\nr2,7,mm16764:7620:762\n").Match(p.Stations)
	assert.Error(t, err)
}

// The last digit is that which was written, in the meter's unit; the coarsest reading of a station counts.
func TestStepOfTheDisplay(t *testing.T) {
	r := read(t, "station,reading_fc,meter_unit\na,21.5,lx\na,22,lx\nb,\"30.25\",lx\nc,4,fc\n")
	assert.InEpsilon(t, 1, r.StepOf(map[string]float64{"a": 1}), rounding)
	assert.InEpsilon(t, 0.5+0.25*0.01+0.25*photometry.Footcandle, r.StepOf(map[string]float64{"a": 0.5, "b": 0.25, "c": 0.25}), rounding)
	twice := r.Corrected(1.02)
	assert.InEpsilon(t, 1.02*30.25, twice.Means()["b"], rounding)
	assert.InEpsilon(t, 1.02*0.01, twice.StepOf(map[string]float64{"b": 1}), rounding)
}

func TestWriteReportsItsWriter(t *testing.T) {
	form := Form(Lux, plan(t, Lattice{Length: 5, Width: 4, Rows: 1, Columns: 1}))
	for _, room := range []int{0, 10, 100} {
		require.Error(t, form.Write(&full{room}, "a comment"), "%d bytes", room)
	}
}

// full is a writer with room for some bytes.
type full struct{ room int }

func (f *full) Write(p []byte) (int, error) {
	f.room -= len(p)
	if f.room < 0 {
		return 0, errors.New("full")
	}
	return len(p), nil
}

func TestMatch(t *testing.T) {
	p := plan(t, Lattice{Length: 50, Width: 24, WorkPlane: 0.8, Rows: 4, Columns: 5})
	r := read(t, "station,x,y,z,reading_lx\nR1,,,,200\nr2,20.5,9,,210\ndoor,1,23,0.8,55\n")
	m, notes, err := r.Match(p.Stations)
	require.NoError(t, err)
	assert.Equal(t, []string{"r1", "r2", "door"}, m.Stations())
	assert.Equal(t, p.Stations[0].Position, m.Lines[0].Position)
	assert.Equal(t, room.Vec{X: 20.5, Y: 9, Z: 0.8}, m.Lines[1].Position)
	assert.Equal(t, []Note{{Code: ReadElsewhere, Of: "r2", Meters: 0.5}}, notes)
	assert.Equal(t, "R1", r.Lines[0].Station, "the readings themselves stay")

	_, _, err = read(t, "station,x,y,z,reading_lx\nrr1,,,,200\nzzzzzz,,,,1\nri,15,9,0.8,210\n").Match(p.Stations)
	assert.EqualError(t, err, `bay.csv:2:1: station: "rr1" is not in the plan and has no x and y, want r1, perhaps
bay.csv:3:1: station: "zzzzzz" is not in the plan and has no x and y, want a station of the plan, or x and y
bay.csv:4:1: station: "ri" is not in the plan but lies where r1 lies, want r1`)
}

// A pooled deviation of readings with a known one: n draws a station give it back within what their number allows.
func TestScatterAndRepeatability(t *testing.T) {
	r := Readings{Lines: []Reading{{Station: "a", Value: 90}, {Station: "a", Value: 110}, {Station: "b", Value: 190}, {Station: "b", Value: 200},
		{Station: "b", Value: 210}, {Station: "c", Value: 50}, {Station: "d", Value: 0}, {Station: "d", Value: 0}}}
	s, freedom := r.Scatter()
	assert.Equal(t, 3, freedom, "one reading and darkness tell nothing")
	assert.InEpsilon(t, math.Sqrt((2*0.01+2*0.0025)/3), s, rounding)
	a := Average{Weights: map[string]float64{"a": 0.5, "b": 0.25, "c": 0.25}}
	c, ok := r.Repeatability(a)
	require.True(t, ok)
	sum := 0.5*100 + 0.25*200 + 0.25*50
	assert.InEpsilon(t, s*math.Sqrt(50*50/2.0+50*50/3.0+12.5*12.5)/sum, c.Standard(), rounding)
	assert.Equal(t, 3.0, c.Freedom)
	_, ok = r.Repeatability(Average{})
	assert.False(t, ok)
	_, ok = Readings{}.Repeatability(a)
	assert.False(t, ok)
}

// By hand: a and b count alike, 90 and 110 where 100 and 100 are predicted, so that each is 10 percent off the mean ratio of 1: s = √(0.02/1),
// u = s √(45² + 55²)/100. Readings that follow the prediction leave nothing, and twice the light the same share.
func TestResidual(t *testing.T) {
	a := Average{Weights: map[string]float64{"a": 0.5, "b": 0.5, "dark": 0}}
	c, ok := Residual(map[string]float64{"a": 90, "b": 110}, map[string]float64{"a": 100, "b": 100}, a)
	require.True(t, ok)
	assert.InEpsilon(t, math.Sqrt(0.02)*math.Hypot(45, 55)/100, c.Standard(), rounding)
	assert.Equal(t, 1.0, c.Freedom)
	assert.True(t, c.Variable)
	twice, _ := Residual(map[string]float64{"a": 180, "b": 220}, map[string]float64{"a": 100, "b": 100}, a)
	assert.InEpsilon(t, c.Standard(), twice.Standard(), rounding)
	c, ok = Residual(map[string]float64{"a": 45, "b": 90}, map[string]float64{"a": 100, "b": 200}, a)
	require.True(t, ok)
	assert.InDelta(t, 0, c.Standard(), 1e-15)
	for _, none := range []map[string]float64{{"a": 90}, {"a": 0, "b": 0}} {
		_, ok = Residual(none, map[string]float64{"a": 100, "b": 100}, Average{Weights: map[string]float64{"a": 1}})
		assert.False(t, ok)
	}
}

// A meter's unit holds from its line on and goes before the header's; what is struck out stays in the file and counts for nothing.
func TestMeterUnitAndStruckOut(t *testing.T) {
	r := read(t, "station,reading_fc,meter_unit,struck_out\nr1,10,,\nr2,200,LUX,\nr3,300,,own shadow\nr3,400,,\nr4,20,fc,\n")
	assert.False(t, r.UnitNoted(), "r1 says nothing")
	means := r.Means()
	assert.InEpsilon(t, 10*photometry.Footcandle, means["r1"], rounding)
	assert.InEpsilon(t, 200, means["r2"], rounding)
	assert.InEpsilon(t, 400, means["r3"], rounding)
	assert.InEpsilon(t, 20*photometry.Footcandle, means["r4"], rounding)
	shown := r.Shown(Lux)
	assert.True(t, shown.UnitNoted())
	assert.InEpsilon(t, 10, shown.Means()["r1"], rounding)
	assert.InEpsilon(t, 200, shown.Means()["r2"], rounding, "it says what it is itself")
	for _, wrong := range []string{"station,reading_fc,meter_unit\nr1,1,klx\n", "station,reading_fc,struck_out\nr1,1,x\n"} {
		_, err := Read("bay.csv", strings.NewReader(wrong))
		assert.Error(t, err, wrong)
	}
}

func TestReadingsAgree(t *testing.T) {
	r := Readings{Lines: []Reading{{Station: "a", Value: 100}, {Station: "a", Value: 109}, {Station: "b", Value: 100}, {Station: "b", Value: 150},
		{Station: "c", Value: 9}, {Station: "d", Value: 10}, {Station: "d", Value: 100, StruckOut: "range"},
		{Station: "f", Value: 10}, {Station: "f", Value: 10}, {Station: "g", Value: 10}, {Station: "g", Value: 10, Time: "21:40"}}}
	assert.True(t, r.Agree("a"))
	assert.True(t, r.Agree("g"), "the same again, at another time")
	for _, not := range []string{"b", "c", "d", "e", "f"} {
		assert.False(t, r.Agree(not), not)
		assert.Equal(t, not == "f", r.Copied(not), "alike in all: a line that was copied")
	}
}

func TestAnyReadingsSurviveWriting(t *testing.T) {
	name := rapid.StringMatching(`[a-zA-Z][a-zA-Z0-9 .,;"'-]{0,20}[a-z0-9]`)
	rapid.Check(t, func(t *rapid.T) {
		r := Readings{Unit: Unit(rapid.IntRange(0, 1).Draw(t, "unit"))}
		for range rapid.IntRange(0, 10).Draw(t, "lines") {
			l := Reading{Station: name.Draw(t, "name"), Value: math.NaN(), FacingDeg: math.NaN(), Note: strings.TrimSpace(rapid.String().Draw(t, "note")),
				Position: room.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}}
			l.Note = strings.Map(func(r rune) rune {
				if r == 0 || r == '\r' {
					return 'x'
				}
				return r
			}, l.Note)
			l.Photo = rapid.SampledFrom([]string{"", "r1.jpg", "of the aisle.png"}).Draw(t, "photo")
			l.MeterUnit = rapid.SampledFrom([]string{"fc", "lx"}).Draw(t, "shows")
			l.StruckOut = rapid.SampledFrom([]string{"", "own shadow"}).Draw(t, "struck out")
			if rapid.Bool().Draw(t, "taken") {
				l.Value = rapid.Float64Range(0, 1e5).Draw(t, "value")
			}
			r.Lines = append(r.Lines, l)
		}
		var text strings.Builder
		require.NoError(t, r.Write(&text))
		back, err := Read("any.csv", strings.NewReader(text.String()))
		require.NoError(t, err)
		assertSame(t, r, back, "round trip")
	})
}

func FuzzReadReadings(f *testing.F) {
	for _, text := range []string{filled, "", "station;reading_lx\na;1,5\n", "\uFEFFsep=;\r\nstation\treading_fc\tx\ty\r\na\t3\t1\t2\r\n",
		"station,x_m,y_m,z_m,facing_deg,reading_lx,time,note\na,1,2,3,90,1e3,,\"b\n\"\"c\"\"\"\n", "\"# q\",\nstation,reading_lx\na,\"1,2\"\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := Read("fuzz.csv", bytes.NewReader(text))
		if err != nil {
			var faults diag.List
			require.ErrorAs(t, err, &faults)
			for _, e := range faults {
				assert.Equal(t, "fuzz.csv", e.Pos.File)
				assert.Positive(t, e.Pos.Line)
			}
			return
		}
		var out strings.Builder
		require.NoError(t, r.Write(&out, Instructions(r.Unit)...))
		back, err := Read("again.csv", strings.NewReader(out.String()))
		require.NoError(t, err, out.String())
		assertSame(t, r, back, out.String())
	})
}
