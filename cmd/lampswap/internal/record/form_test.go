package record

import (
	"bytes"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/photometry/job"
)

// A hall whose stations fall on no whole foot; all of it is invented.
const hall = `title = "hall"
units = "UNITS"
[room]
length = 121.3
width = 61.7
height = 18.0
[layout]
mounting_height = 16.0
rows = 6
columns = 11
[existing]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "f96t12-2-magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F32T8/800"
lamps = 4
ballast = "f32t8-4-is-normal"
`

func measured(t *testing.T, units string) (*job.Job, stations.Measurement) {
	t.Helper()
	j, err := job.Read("hall.toml", bytes.ReplaceAll([]byte(hall), []byte("UNITS"), []byte(units)), nil)
	require.NoError(t, err)
	m, err := stations.Of(j, "proposed", stations.Wanted{Kind: stations.Auto})
	require.NoError(t, err)
	return j, m
}

// The form has a line to write on for every station, places as a tape has them, and asks for what a reading is worth nothing without; it
// is a page that prints.
func TestFormOnPaper(t *testing.T) {
	tape := map[string]*regexp.Regexp{"imperial": regexp.MustCompile(`^\d+' (\d|1[01])"$`), "metric": regexp.MustCompile(`^\d+\.\d\d m$`)}
	for units, want := range tape {
		j, m := measured(t, units)
		d := Form(j, m)
		names := map[string]bool{}
		var asked []string
		for _, b := range d.Blocks {
			switch b := b.(type) {
			case document.Blanks:
				asked = append(asked, b.Names...)
			case document.Table:
				assert.True(t, b.Write)
				for _, r := range b.Groups[0].Rows {
					names[r.Label] = true
					for _, c := range r.Cells[:3] {
						assert.Regexp(t, want, c.Text)
					}
					assert.Empty(t, r.Cells[4].Text)
				}
			}
		}
		for _, s := range m.Stations() {
			assert.True(t, names[s.Name], s.Name)
		}
		for _, what := range []string{"Meter shows:  [  ] fc   [  ] lx", "Calibrated on, factor", "Daylight:  [  ] dark  [  ] subtracted  [  ] in it", "Signature"} {
			assert.Contains(t, asked, what)
		}
		file, err := FormFile(j, m)
		require.NoError(t, err)
		size := map[string]string{"imperial": "[0 0 612.00 792.00]", "metric": "[0 0 595.28 841.89]"}[units]
		assert.Contains(t, string(file.Content), "/MediaBox "+size)
	}
}
