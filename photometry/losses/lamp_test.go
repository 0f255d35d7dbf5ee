package losses

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLampLumenDepreciation(t *testing.T) {
	mid, end := Basis{}, Basis{At: End}
	after := func(hours float64) Basis { return Basis{AtHours, hours} }
	for _, c := range []struct {
		name                string
		initial, mean, life float64
		l70                 bool
		basis               Basis
		relamp              float64
		want, hours         float64
		from                string
		law                 Law
	}{
		// 2950 and 2773 lm: public data sheet of a 4-ft T8, 800 series, seen; 40 percent of life for mean lumens: public answer page, seen
		{"mid-life", 2950, 2773, 24000, false, mid, 0, 2773.0 / 2950, 9600, FromTable, AtMean},
		{"mid-life, whatever the interval", 2950, 2773, 24000, false, mid, 16000, 2773.0 / 2950, 9600, FromTable, AtMean},
		{"end of an interval at 40 percent", 2950, 2773, 24000, false, end, 9600, 2773.0 / 2950, 9600, FromTable, AtMean},
		{"at four times that, twice the exponent", 2950, 2773, 24000, false, end, 4 * 9600, (2773.0 / 2950) * (2773.0 / 2950), 38400, FromTable, BeyondMean},
		{"end of rated life", 2950, 2773, 24000, false, end, 0, math.Pow(2773.0/2950, math.Sqrt(2.5)), 24000, FromTable, BeyondMean},
		{"hours given", 2950, 2773, 24000, false, after(9600), 16000, 2773.0 / 2950, 9600, FromTable, AtMean},
		{"new lamps", 2950, 2773, 24000, false, after(0), 0, 1, 0, FromTable, BeyondMean},
		{"mid-life, life not known", 2950, 2773, 0, false, mid, 9600, 2773.0 / 2950, math.NaN(), FromTable, AtMean},
		{"end, life not known", 2950, 2773, 0, false, end, 9600, 2773.0 / 2950, 9600, FromTable, LifeUnknown},
		{"mean not known", 2950, 0, 24000, false, end, 9600, 1, 9600, FromDefault, MeanUnknown},
		// 0.70 at the L70 life is its definition; that light falls exponentially through it is our choice.
		{"LED at mid-life", 5000, 0, 50000, true, mid, 0, math.Pow(0.7, 0.4), 20000, FromTable, L70Law},
		{"LED at its L70 life", 5000, 0, 50000, true, end, 0, 0.7, 50000, FromTable, L70Law},
		{"LED at half of it", 5000, 0, 50000, true, end, 25000, math.Sqrt(0.7), 25000, FromTable, L70Law},
		{"LED, life not known", 5000, 0, 0, true, mid, 0, math.Pow(0.7, 0.4), math.NaN(), FromTable, L70Law},
		{"LED, hours given, life not known", 5000, 0, 0, true, after(9000), 0, math.Pow(0.7, 0.4), 9000, FromDefault, L70LifeUnknown},
	} {
		age := c.basis.Age(c.life, c.relamp)
		f := LampLumenDepreciation(c.initial, c.mean, c.l70, age)
		assert.InEpsilon(t, c.want, f.Value, 1e-12, c.name) // rounding
		assert.Equal(t, c.from, f.From, c.name)
		assert.Equal(t, c.law, f.Why.(Aged).Law, c.name)
		if math.IsNaN(c.hours) {
			assert.True(t, math.IsNaN(age.Hours), c.name)
		} else {
			assert.InDelta(t, c.hours, age.Hours, 1e-9, c.name) // rounding
		}
	}
	assert.InDelta(t, 0.867, math.Pow(0.7, 0.4), 5e-4)
	assert.Equal(t, []string{"mid-life", "end", "hours"}, []string{MidLife.String(), End.String(), AtHours.String()})
	assert.Equal(t, PointNames(), []string{MidLife.String(), End.String()})
}

// The curve of the years passes the judged age with the judged share, whatever the basis.
func TestTheYearsPassTheAgeJudged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := draw(t)
		c.DirtShare, c.RoomSurfaceShare, c.ConstantShare = 1, 1, 1
		life, relamp := c.RatedLifeHours, c.RelampHours
		c.RelampHours = max(relamp, life) // of those judged at an age that they never reach no curve can tell
		at := rapid.SampledFrom([]Basis{{}, {At: End}, {AtHours, rapid.Float64Range(0, 1).Draw(t, "hours") * life}}).Draw(t, "basis")
		age := at.Age(life, c.RelampHours)
		judged := LampLumenDepreciation(c.InitialLumens, c.MeanLumens, c.L70, age)
		require.InEpsilon(t, judged.Value, c.KeptBefore(age.Hours/c.HoursPerYear), 1e-9) // rounding of the time, near 0 its root
		if c.L70 {
			c.Replacement, c.RelampHours = Spot, 0
			age = at.Age(life, 0)
			require.InEpsilon(t, LampLumenDepreciation(0, 0, true, age).Value, c.KeptBefore(age.Hours/c.HoursPerYear), 1e-9)
		}
	})
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
