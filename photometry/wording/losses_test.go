package wording

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/losses"
)

func TestWhatLossesRestOn(t *testing.T) {
	lamps := func(mean float64, l70 bool, b losses.Basis, life, relamp float64) string {
		return Why(losses.LampLumenDepreciation(2950, mean, l70, b.Age(life, relamp)).OfLamp("F32T8", "a table"))
	}
	mid, end := losses.Basis{}, losses.Basis{At: losses.End}
	sheet := t8(0)
	sheet.Points = []losses.OutputPoint{{AmbientCelsius: -10, RelativeOutput: 0.3}, {AmbientCelsius: 10, RelativeOutput: 0.8}, {AmbientCelsius: 25, RelativeOutput: 1}}
	for want, got := range map[string]string{
		"F32T8 after 9,600 h, 40 percent of the rated life of 24,000 h: mean over initial lumens, which holds there (a table)": lamps(2773, false, mid, 24000, 16000),
		"F32T8 at 40 percent of rated life: mean over initial lumens, which holds there (a table)":                             lamps(2773, false, mid, 0, 0),
		"F32T8 after 38,400 h, 160 percent of the rated life of 24,000 h: 0.94, mean over initial lumens at 40 percent of rated life, " +
			"carried on by our interpolation, assumed (a table)": lamps(2773, false, end, 24000, 38400),
		"F32T8 after 9,600 h, but the rated life is not known: mean over initial lumens, which holds at 40 percent of it (a table)":             lamps(2773, false, end, 0, 9600),
		"F32T8: mean lumens are not known: no loss is counted (a table)":                                                                        lamps(0, false, end, 24000, 0),
		"F32T8 after 20,000 h, 40 percent of the rated life of 50,000 h: 0.70^0.4, exponential through the L70 life, our assumed law (a table)": lamps(0, true, mid, 50000, 0),
		"F32T8 after 9,000 h, but the L70 life is not known: taken as at 40 percent of it, 0.70^0.40, assumed (a table)":                        lamps(0, true, end, 0, 9000),
		"data-sheet points of the lamp as given: straight line between 0.3 at -10 °C (14 °F) and 0.8 at 10 °C (50 °F)":                          Why(losses.TemperatureAdvice(sheet).Factor),
	} {
		assert.Equal(t, want, got)
	}
	low, filthy := losses.RoomSurfaceDirt(losses.Direct, losses.Clean, 1, 0.4), losses.RoomSurfaceDirt(losses.Indirect, losses.VeryDirty, 5, 10)
	assert.Contains(t, Why(low), "direct luminaire, clean, 12 months: 12 percent dirt (law in time assumed), room cavity ratio 0.4; the table covers ratios from 1 to 10, its edge is used; ")
	assert.Contains(t, Why(filthy), "the table ends at 40 percent, which is used; ")
	assert.Regexp(t, `^category IV, very-clean, 6 months: exp\(-0\.\d+ t\^0\.\d+\); .*from memory, unverified`, Why(losses.LuminaireDirt(losses.CategoryIV, losses.VeryClean, 0.5)))
	for _, e := range losses.Defaults().List() {
		assert.NotEmpty(t, Why(e.Factor), e.Key)
	}
}
