package losses

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLampLumenDepreciation(t *testing.T) {
	for _, c := range []struct {
		name                        string
		initial, mean, life, relamp float64
		l70                         bool
		want                        float64
		from, says                  string
	}{
		// 2950 and 2773 lm: public data sheet of a 4-ft T8, 800 series, seen; 40 percent of life for mean lumens: public answer page, seen
		{"no relamping: mean over initial", 2950, 2773, 24000, 0, false, 2773.0 / 2950, FromTable, "40 percent of rated life"},
		{"relamping at 40 percent", 2950, 2773, 24000, 9600, false, 2773.0 / 2950, FromTable, "our interpolation, assumed"},
		{"at four times that, twice the exponent", 2950, 2773, 24000, 4 * 9600, false, (2773.0 / 2950) * (2773.0 / 2950), FromTable, "assumed"},
		{"life not known", 2950, 2773, 0, 9600, false, 2773.0 / 2950, FromTable, "no relamping time is used"},
		{"mean not known", 2950, 0, 24000, 9600, false, 1, FromDefault, "not known"},
		{"LED at its L70 life", 5000, 0, 50000, 50000, true, 0.7, FromTable, "our assumed law"},
		{"LED at half of it", 5000, 0, 50000, 25000, true, math.Sqrt(0.7), FromTable, "our assumed law"},
		{"LED, no relamping", 5000, 0, 50000, 0, true, 0.7, FromDefault, "L70"},
	} {
		f := LampLumenDepreciation(c.initial, c.mean, c.life, c.relamp, c.l70)
		assert.InEpsilon(t, c.want, f.Value, 1e-12, c.name) // rounding
		assert.Equal(t, c.from, f.From, c.name)
		assert.Contains(t, f.Detail, c.says, c.name)
	}
}

func TestLumenMaintenanceFallsFromOneThroughTheMeanPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		initial := rapid.Float64Range(500, 10000).Draw(t, "initial")
		mean := initial * rapid.Float64Range(0.6, 0.99).Draw(t, "mean share")
		life := rapid.Float64Range(5000, 50000).Draw(t, "life")
		early := rapid.Float64Range(0, 2).Draw(t, "early") * life
		late := early + rapid.Float64Range(1e-3, 2).Draw(t, "later")*life
		for _, l70 := range []bool{false, true} {
			require.Equal(t, 1.0, LumenMaintenance(initial, mean, life, 0, l70))
			require.Less(t, LumenMaintenance(initial, mean, life, late, l70), LumenMaintenance(initial, mean, life, early, l70))
			require.Positive(t, LumenMaintenance(initial, mean, life, late, l70))
		}
		require.InEpsilon(t, mean/initial, LumenMaintenance(initial, mean, life, 0.4*life, false), 1e-12) // rounding
		require.InEpsilon(t, 0.7, LumenMaintenance(initial, mean, life, life, true), 1e-12)               // rounding
	})
	for _, bad := range []float64{
		LumenMaintenance(0, 1, 1, 1, false), LumenMaintenance(1, 0, 1, 1, false), LumenMaintenance(1, 1, 0, 1, false),
		LumenMaintenance(1, 1, 1, -1, false), LumenMaintenance(1, 1, 0, 1, true), LumenMaintenance(1, 1, 1, math.NaN(), false),
	} {
		assert.True(t, math.IsNaN(bad))
	}
}

func TestBurnoutWarning(t *testing.T) {
	assert.Empty(t, BurnoutWarning(14000, 20000))
	assert.Empty(t, BurnoutWarning(0, 20000))
	assert.Empty(t, BurnoutWarning(16000, 0))
	warning := BurnoutWarning(16000, 20000)
	assert.Contains(t, warning, "80 percent")
	assert.Contains(t, warning, "losses.lamp_burnout")
}
