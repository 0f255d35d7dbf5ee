package export

import (
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/photometry"
	"lampswap/photometry/building"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// everything is an invented job with a replacement, a way out on emergency power, racks, money, tolerances, and letters beyond English.
const everything = "../../testdata/proposal-everything.toml"

// aResult is of the job in a file, or of the demonstration.
func aResult(t *testing.T, files ...string) *study.Result {
	t.Helper()
	j, err := jobs.Read(files)
	require.NoError(t, err)
	r, err := study.Run(t.Context(), j, nil)
	require.NoError(t, err)
	return r
}

func readCSV(t *testing.T, b *bytes.Buffer) [][]string {
	t.Helper()
	lines, err := csv.NewReader(b).ReadAll()
	require.NoError(t, err, "every line has as many fields as the first")
	return lines
}

func number64(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

// Every quantity of the ledger that has a unit says so, once.
func TestLedgerCSVUnits(t *testing.T) {
	var b bytes.Buffer
	r := aResult(t)
	require.NoError(t, LedgerCSV(&b, r))
	lines := readCSV(t, &b)
	assert.Equal(t, []string{"section", "quantity", "unit", "existing", "proposed", "change", "required", "version", "inputs_digest"}, lines[0])
	got := map[string]string{}
	for _, line := range lines[1:] {
		got[line[0]+"/"+line[1]] = line[2]
		assert.NotRegexp(t, `, (fc|lm|W|kW|kWh|years|W/ft2)$`, line[1], "the unit is apart")
	}
	for key, unit := range map[string]string{
		"One luminaire/initial lamp lumens": "lm", "One luminaire/input watts": "W", "One luminaire/luminaire efficiency": "",
		"All luminaires/number": "", "All luminaires/connected load": "kW", "All luminaires/power density": "W/ft2",
		"Lumen method/coefficient of utilization": "", "Lumen method/room cavity ratio": "", "Lumen method/maintained average": "fc",
		"Lumen method/spacing over criterion, along": "", "Point by point, work plane/average": "fc", "Point by point, work " +
			"plane/average to minimum": "",
		"Energy/energy a year": "kWh", "Energy/simple payback": "years",
	} {
		assert.Contains(t, got, key)
		assert.Equal(t, unit, got[key], key)
	}
	for _, line := range lines[1:] {
		if line[0] == "Point by point, work plane" && line[1] == "average" {
			before, after := r.Existing().Grids[0].Statistics.Average/photometry.Footcandle, r.Proposed().Grids[0].Statistics.Average/photometry.Footcandle
			assert.InEpsilon(t, before, number64(t, line[3]), 1e-14, "full precision")
			assert.InEpsilon(t, after, number64(t, line[4]), 1e-14)
			assert.InEpsilon(t, after/before-1, number64(t, line[5]), 1e-9)
		}
	}
}

// Points are where the grid has them, parts add up to the light, and a point inside a rack has none.
func TestGridCSV(t *testing.T) {
	r := aResult(t, everything)
	for i, g := range r.Existing().Grids {
		var b bytes.Buffer
		require.NoError(t, GridCSV(&b, r, i))
		lines := readCSV(t, &b)
		require.Len(t, lines, 1+g.NX*g.NY)
		column := map[string]int{}
		for k, name := range lines[0] {
			column[name] = k
		}
		empty := 0
		for k, line := range lines[1:] {
			at := g.Point(k%g.NX, k/g.NX)
			for name, m := range map[string]float64{"x_ft": at.X, "y_ft": at.Y, "height_ft": at.Z} {
				assert.InDelta(t, m/photometry.Foot, number64(t, line[column[name]]), 1e-9)
			}
			if line[column["existing_fc"]] == "" {
				assert.True(t, math.IsNaN(g.Maintained[k]))
				empty++
				continue
			}
			for s, side := range r.Sides {
				kept := side.Losses.Total() / side.Losses.BallastFactor.Value
				initial := number64(t, line[column[side.Name+"_initial_direct_fc"]]) + number64(t, line[column[side.Name+"_initial_interreflected_fc"]])
				assert.InEpsilon(t, initial*kept, number64(t, line[column[side.Name+"_fc"]]), 1e-12, "side %d", s)
			}
			assert.InDelta(t, number64(t, line[column["proposed_fc"]])-number64(t, line[column["existing_fc"]]), number64(t,
				line[column["change_fc"]]), 1e-9)
		}
		assert.Equal(t, i == 0, empty > 0, "the work plane meets racks: %s", g.Name)
	}
}

func TestUnitApart(t *testing.T) {
	for _, c := range [][5]string{
		{"Lumen method, lx", "maintained average", "Lumen method", "maintained average", "lx"},
		{"Point by point, bay, fc, fc", "minimum", "Point by point, bay, fc", "minimum", "fc"},
		{"All luminaires", "power density, W/m2", "All luminaires", "power density", "W/m2"},
		{"A year", "energy, cost", "A year", "energy, cost", ""},
	} {
		name, quantity, unit := unitApart(c[0], c[1])
		assert.Equal(t, [3]string{c[2], c[3], c[4]}, [3]string{name, quantity, unit})
	}
}

func TestNumberFormat(t *testing.T) {
	for text, want := range map[string]string{"40": "0", "0.875": "0.000", "22,752": "#,##0", "-29 %": "+0%;-0%;0%",
		"0.940 t": `0.000" t"`, "$871": `"$"#,##0`, "-$1,871": `"$"#,##0`, "12\u00a0400\u00a0zł": "#,##0\"\u00a0zł\"", "0.620  ": "0.000", "24.3": "0.0",
		"4,160, occupancy saves 20 %": `#,##0", occupancy saves 20 %"`, "50, 3 failed": `0", 3 failed"`, "74, dimmed to 0.8": `0", dimmed to 0.8"`, "0.33 over": `0.00" over"`} {
		assert.Equal(t, want, numberFormat(text), text)
	}
}

// Another reader of spreadsheets would find numbers as numbers, formatted as the ledger shows them.
func TestWorkbookReadBack(t *testing.T) {
	r := aResult(t, everything)
	var b bytes.Buffer
	require.NoError(t, XLSX(&b, r))
	f, err := excelize.OpenReader(bytes.NewReader(b.Bytes()))
	require.NoError(t, err)
	defer f.Close() //nolint:errcheck // read only
	assert.Equal(t, []string{"Verdict", "Before and after", "Systems compared", "Criteria", "Light 1 work plane", "Light 2 way out", "Light 3 aisle 1, north face",
		"Light 4 way out, on emergency p", "Assumptions and warnings"}, f.GetSheetList())
	checkLedgerSheet(t, f, ledger.BeforeAfter(r))
	for i, g := range r.Existing().Grids {
		checkGridSheet(t, f, f.GetSheetList()[4+i], r, g, i)
	}
	rows, err := f.GetRows("Criteria", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	assert.Len(t, rows, 4+len(r.Verdicts))
	rows, err = f.GetRows(notesSheet)
	require.NoError(t, err)
	text := ""
	for _, row := range rows {
		text += strings.Join(row, "|") + "\n"
	}
	for _, d := range r.Job.Defaults {
		assert.Contains(t, text, d.Key+"|"+d.Value+"|"+d.Reason)
	}
	for _, w := range append(wording.Weighed(r), wording.Cautions(r)...) {
		assert.Contains(t, text, w)
	}
	p, err := f.GetDocProps()
	require.NoError(t, err)
	assert.Equal(t, r.Job.Title, p.Title)
	assert.Equal(t, r.Job.Facts.PreparedBy, p.Creator)
	assert.Equal(t, "2026-04-30T00:00:00Z", p.Created)
}

// checkLedgerSheet finds each row of the ledger on its sheet, its value and what is shown of it.
func checkLedgerSheet(t *testing.T, f *excelize.File, l ledger.Ledger) {
	t.Helper()
	raw, err := f.GetRows("Before and after", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	shown, err := f.GetRows("Before and after")
	require.NoError(t, err)
	at := 4 // after title, name, blank and head
	for _, s := range l.Sections {
		assert.Equal(t, s.Name, raw[at][0])
		at++
		for _, row := range s.Rows {
			assert.Equal(t, row.Label, strings.TrimSpace(raw[at][0]))
			for k, c := range row.Cells {
				if math.IsNaN(c.Value) {
					continue
				}
				assert.InDelta(t, c.Value, number64(t, raw[at][k+1]), 1e-12*math.Abs(c.Value), "%s", row.Label)
				if k < 2 {
					assert.Equal(t, strings.TrimRight(c.Text, " "), shown[at][k+1], "%s: shown as in the ledger", row.Label)
				}
			}
			at++
		}
	}
}

// checkGridSheet finds each point of a grid: the block of the existing light begins below its name and the x of the columns.
func checkGridSheet(t *testing.T, f *excelize.File, sheet string, r *study.Result, g lighting.Grid, i int) {
	t.Helper()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	for block, values := range [][]float64{g.Maintained, r.Proposed().Grids[i].Maintained, r.Sides[2].Grids[i].Maintained} {
		first := 3 + block*(g.NY+3) + 2
		require.Equal(t, []string{"existing", "proposed", "replacement"}[block], rows[first-2][0])
		for iy := range g.NY {
			row := rows[first+g.NY-1-iy]
			for ix := range g.NX {
				want := values[iy*g.NX+ix] / photometry.Footcandle
				if math.IsNaN(want) {
					assert.True(t, ix+1 >= len(row) || row[ix+1] == "", "a point inside a rack")
					continue
				}
				require.InDelta(t, want, number64(t, row[ix+1]), 1e-9)
			}
		}
	}
}

func TestSheetNames(t *testing.T) {
	assert.Equal(t, "Light 3 a b  c", sheetName(2, "a/b: c"))
	assert.Len(t, []rune(sheetName(0, strings.Repeat("é", 50))), 31)
}

// aBuilding is that of the demonstration, whose controls and failed luminaires put words behind numbers.
func aBuilding(t *testing.T) *whole.Result {
	t.Helper()
	text, err := jobs.Demo.ReadFile("demo/works.toml")
	require.NoError(t, err)
	b, err := building.Read("works.toml", text, func(string) ([]byte, error) { return nil, os.ErrNotExist }, nil)
	require.NoError(t, err)
	r, err := whole.Run(t.Context(), b, nil)
	require.NoError(t, err)
	return r
}

// A spreadsheet program opens the workbooks: every sheet prints, no number is too wide for its column, and nothing is a formula.
func TestWorkbookInASpreadsheetProgram(t *testing.T) {
	office, err := exec.LookPath("soffice")
	pdftotext, missing := exec.LookPath("pdftotext")
	if err != nil || missing != nil {
		require.NotEqual(t, "1", os.Getenv("LAMPSWAP_REQUIRE_SPREADSHEET"), "no spreadsheet program is installed")
		t.Skip("neither a spreadsheet program (soffice) nor a reader of PDF is installed")
	}
	r, whole := aResult(t, everything), aBuilding(t)
	word, _ := ledger.Answer(r)
	ofBuilding, _ := ledger.BuildingAnswer(whole)
	for name, book := range map[string]struct {
		write func(w io.Writer) error
		told  []string
	}{
		"job":      {func(w io.Writer) error { return XLSX(w, r) }, []string{word, "Maintained light on the work plane", "Life-cycle cost", "Cautions", "$401", "replacement"}},
		"building": {func(w io.Writer) error { return BuildingXLSX(w, whole) }, []string{ofBuilding, "Life-cycle cost", "Cautions", "saves 20 %", "50, 3 failed"}},
	} {
		folder := t.TempDir()
		var b bytes.Buffer
		require.NoError(t, book.write(&b))
		hasNoFormula(t, b.Bytes())
		require.NoError(t, os.WriteFile(filepath.Join(folder, "job.xlsx"), b.Bytes(), 0o600))
		ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
		defer cancel()
		home := "-env:UserInstallation=file://" + filepath.Join(folder, "home")
		said, err := exec.CommandContext(ctx, office, home, "--headless", "--convert-to", "pdf", "--outdir", folder, filepath.Join(folder, "job.xlsx")).CombinedOutput() //nolint:gosec // our own file
		require.NoError(t, err, string(said))
		text, err := exec.CommandContext(ctx, pdftotext, "-layout", filepath.Join(folder, "job.pdf"), "-").Output() //nolint:gosec // the same
		require.NoError(t, err)
		for _, told := range book.told {
			assert.Contains(t, string(text), told, name)
		}
		for _, broken := range []string{"###", "Err:", "#REF", "#NAME", "#VALUE"} {
			assert.NotContains(t, string(text), broken, name)
		}
	}
}

// hasNoFormula wants numbers and texts alone in a workbook.
func hasNoFormula(t *testing.T, book []byte) {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(book))
	require.NoError(t, err)
	defer f.Close() //nolint:errcheck // read only
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		require.NoError(t, err)
		for y, row := range rows {
			for x := range row {
				cell, err := excelize.CoordinatesToCellName(x+1, y+1)
				require.NoError(t, err)
				formula, err := f.GetCellFormula(sheet, cell)
				require.NoError(t, err)
				assert.Empty(t, formula, "%s %s", sheet, cell)
			}
		}
	}
}
