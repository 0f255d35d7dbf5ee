package proposal

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/plots"
)

// A tube in a freezer that is colder than its rating.
const freezer = `units = "imperial"
[room]
length = 30.0
width = 20.0
height = 14.0
[layout]
mounting_height = 12.0
rows = 2
columns = 2
[existing]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "LED-T8-4FT-18.5W-B"
lamps = 4
[upkeep]
ambient_temperature = -30.0
[[criteria]]
at_least = 10
`

// Light that is not known is called so wherever it is drawn, and its course through the years is not.
func TestLightOutsideRating(t *testing.T) {
	j, err := job.Read("freezer.toml", []byte(freezer), nil)
	require.NoError(t, err)
	r, err := study.Run(t.Context(), j, nil)
	require.NoError(t, err)
	sheets, courses := 0, 0
	d, err := Of(r, nil, Both, phrases.English)
	require.NoError(t, err)
	for _, b := range d.Blocks {
		figure, ok := b.(document.Figure)
		if !ok {
			continue
		}
		for _, part := range figure.Parts {
			switch p := part.(type) {
			case plots.Sheet:
				sheets++
				assert.Equal(t, []string{"Existing", "Proposed: NOT KNOWN", "Change, proposed less existing: NOT KNOWN"},
					[]string{p.Maps[0].Title, p.Maps[1].Title, p.Maps[2].Title})
				assert.Contains(t, figure.Caption, "The light of the proposed system is NOT KNOWN: the lamp is used at −34 °C (−30 °F), below its least rated")
			case plots.Years:
				courses++
				assert.Contains(t, p.Describe(), "Proposed is not known: the lamp is used at")
				assert.NotContains(t, p.Describe(), "Proposed does not fall below")
			}
		}
	}
	assert.Equal(t, []int{1, 1}, []int{sheets, courses})
}
