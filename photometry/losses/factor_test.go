package losses

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestDefaultsLoseNothingAndSayWhy(t *testing.T) {
	f := Defaults()
	assert.Equal(t, 1.0, f.Total())
	var keys []string
	for _, e := range f.List() {
		keys = append(keys, e.Key)
		assert.Equal(t, 1.0, e.Value, e.Key)
		assert.Equal(t, FromDefault, e.From, e.Key)
		assert.IsType(t, NothingKnown, e.Why, e.Key)
	}
	assert.Equal(t, []string{"ballast_factor", "lamp_lumen_depreciation", "luminaire_dirt_depreciation", "room_surface_dirt_depreciation",
		"lamp_burnout", "temperature", "voltage", "other"}, keys)
}

func TestTotalIsTheProduct(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Factor { return Given(rapid.Float64Range(0.1, 1.3).Draw(t, name)) }
		f := Factors{
			BallastFactor: draw("ballast"), LampLumenDepreciation: draw("lamp"), LuminaireDirtDepreciation: draw("luminaire"),
			RoomSurfaceDirtDepreciation: draw("room"), LampBurnout: draw("burnout"), Temperature: draw("temperature"),
			Voltage: draw("voltage"), Other: draw("other"),
		}
		want := f.BallastFactor.Value * f.LampLumenDepreciation.Value * f.LuminaireDirtDepreciation.Value * f.RoomSurfaceDirtDepreciation.Value *
			f.LampBurnout.Value * f.Temperature.Value * f.Voltage.Value * f.Other.Value
		require.InEpsilon(t, want, f.Total(), 1e-12) // rounding
		total := draw("total")
		f.TotalOverride = &total
		require.Equal(t, total.Value, f.Total(), "replaces them all, the ballast factor too")
	})
}
