package losses

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var nan = math.NaN()

func TestTemperatureAdvice(t *testing.T) {
	for _, c := range []struct {
		name                  string
		rated, ambient, least float64
		says                  []string // nothing: no warning
	}{
		{"as rated", 25, 25, nan, nil},
		{"5 C off is still silent", 25, 20, nan, nil},
		{"a cool warehouse", 25, 10, nan, []string{"15 C below", "losses.temperature", "0.88 10 C off", "weak source", "0.75 15 C off"}},
		{"a hot one", 25, 38, nan, []string{"13 C above"}},
		{"a T5 at a T8's ambient", 35, 25, nan, []string{"10 C below", "0.90 at 25 C (77 F) (T5/HO; good source"}},
		{"too cold for an energy-saving lamp", 25, 15, (60 - 32) / 1.8, []string{"below the least for this lamp, 16 C (60 F)", "10 C below"}},
		{"at the least ambient", 20, (60 - 32) / 1.8, (60 - 32) / 1.8, nil},
		{"ambient not known", 25, nan, 15, nil},
		{"an LED tube in a freezer within its range", nan, -18, -20, nil},
		{"an LED tube below its range", nan, -30, -20, []string{"may not start"}},
	} {
		factor, warning := TemperatureAdvice(c.rated, c.ambient, c.least)
		assert.Equal(t, 1.0, factor.Value, c.name)
		assert.Equal(t, FromDefault, factor.From, c.name)
		assert.Equal(t, len(c.says) == 0, warning == "", "%s: %s", c.name, warning)
		for _, words := range c.says {
			assert.Contains(t, warning, words, c.name)
		}
	}
	_, t8 := TemperatureAdvice(25, 10, nan)
	assert.NotContains(t, t8, "T5", "a point of another rating is no help")
}

func TestTemperatureNeverCorrects(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		celsius := rapid.Float64Range(-40, 60)
		rated, ambient := celsius.Draw(t, "rated"), celsius.Draw(t, "ambient")
		factor, warning := TemperatureAdvice(rated, ambient, nan)
		require.Equal(t, 1.0, factor.Value)
		require.Equal(t, math.Abs(ambient-rated) > offRating, warning != "")
	})
}

func TestTemperaturePointsAsPublished(t *testing.T) {
	points := TemperaturePoints()
	require.Len(t, points, 7)
	weak := 0
	for _, p := range points {
		assert.NotEmpty(t, p.Source)
		assert.Contains(t, []string{"good", "weak"}, p.Weight)
		assert.True(t, p.RelativeOutput > 0 && p.RelativeOutput <= 1)
		assert.Equal(t, p.OffCelsius == 0, p.RelativeOutput == 1)
		if !math.IsNaN(p.AmbientCelsius) {
			assert.Equal(t, p.OffCelsius, math.Abs(p.AmbientCelsius-p.RatedAtCelsius))
		}
		if p.Weight == "weak" {
			weak++
		}
	}
	assert.Equal(t, 4, weak)
	points[0].Lamp = "changed"
	assert.Equal(t, "T12, T8", TemperaturePoints()[0].Lamp)
}
