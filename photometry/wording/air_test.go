package wording

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry"
	"lampswap/photometry/losses"
)

var nan = math.NaN()

// t8 is a T8 lamp in a room of the given temperature, nothing else known.
func t8(ambientC float64) losses.Surroundings {
	return losses.Surroundings{Tube: losses.T8, RatedAtCelsius: 25, LeastAmbientCelsius: nan, AmbientCelsius: ambientC}
}

// concerns are what the temperature leaves in doubt of the light, and of the start of lamps.
func concerns(a losses.Advice) (light, starting string) {
	var of [2][]string
	for _, c := range a.Concerns {
		i := 1
		if c.OfLight() {
			i = 0
		}
		of[i] = append(of[i], Air(a, c))
	}
	return strings.Join(of[0], "; "), strings.Join(of[1], "; ")
}

func TestTemperatureAdvice(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*losses.Surroundings)
		from   string
		says   []string // in the warnings about light; nothing: none
	}{
		{"as rated", func(s *losses.Surroundings) { s.AmbientCelsius = 25 }, losses.FromDefault, nil},
		{"5 °C off is still silent", func(s *losses.Surroundings) { s.AmbientCelsius = 20 }, losses.FromDefault, nil},
		{"ambient not known", func(s *losses.Surroundings) { s.AmbientCelsius = nan }, losses.FromDefault, nil},
		{"a cool warehouse", func(s *losses.Surroundings) { s.AmbientCelsius = 10 }, losses.FromEstimate,
			[]string{"15 °C below", "a T8 lamp", "Give temperature_points, of the system, from", "0.75 15 °C off (weak source: lamp supplier's public page)", "T8 field report", "still air"}},
		{"a freezer", func(s *losses.Surroundings) { s.AmbientCelsius = -20 }, losses.FromEstimate, []string{"a guess", "carried on"}},
		{"a hot one", func(s *losses.Surroundings) { s.AmbientCelsius = 38 }, losses.FromEstimate, []string{"13 °C above", "general rule"}},
		{"a closed fixture in the cold", func(s *losses.Surroundings) { s.AmbientCelsius, s.Enclosed = 5, true }, losses.FromEstimate, []string{"doubt of 0.54 to 1.00", "closed"}},
		{"a closed fixture in the heat", func(s *losses.Surroundings) { s.AmbientCelsius, s.Enclosed = 40, true }, losses.FromEstimate, []string{"may lose more"}},
		{"a T5 at a T8's ambient, its rating from its kind", func(s *losses.Surroundings) { s.Tube, s.RatedAtCelsius = losses.T5, nan }, losses.FromEstimate,
			[]string{"10 °C below", "rated, 35 °C (95 °F)", "0.90 of the light", "good source: Lighting Answers"}},
		{"an LED tube in a freezer", func(s *losses.Surroundings) { s.Tube, s.AmbientCelsius = losses.LEDTube, -18 }, losses.FromDefault, nil},
		{"a source that is not known", func(s *losses.Surroundings) { s.Tube, s.AmbientCelsius = losses.UnknownSource, 0 }, losses.FromDefault,
			[]string{"no change of light is counted", "a fluorescent lamp rated at 25 °C (77 °F) would give about 0.60"}},
		{"a fluorescent lamp that is not known", func(s *losses.Surroundings) { s.Tube, s.RatedAtCelsius, s.AmbientCelsius = losses.UnknownTube, nan, 0 }, losses.FromEstimate,
			[]string{"a fluorescent lamp of unknown kind", "general rule", "T12 newsletter", "T8 field report"}},
	} {
		s := t8(25)
		c.change(&s)
		a := losses.TemperatureAdvice(s)
		light, starting := concerns(a)
		assert.Equal(t, c.from, a.Factor.From, c.name)
		assert.NotEmpty(t, Why(a.Factor), c.name)
		assert.Equal(t, c.from == losses.FromEstimate, a.Estimate != nil, c.name)
		assert.Equal(t, c.from == losses.FromEstimate, a.Factor.Value != 1, c.name)
		assert.Empty(t, starting, c.name)
		assert.Equal(t, len(c.says) == 0, light == "", "%s: %s", c.name, light)
		for _, words := range c.says {
			assert.Contains(t, light, words, c.name)
		}
		assert.NotContains(t, light, "NaN", c.name)
	}
	a := losses.TemperatureAdvice(t8(10))
	cool, _ := concerns(a)
	assert.NotContains(t, cool, "T5", "a point of another kind is no help")
	assert.NotContains(t, cool, "T12")
	assert.Contains(t, Why(a.Factor), "not a published curve")
}

func TestPointsOfDataSheet(t *testing.T) {
	s := t8(-25)
	s.Points = []losses.OutputPoint{{AmbientCelsius: -10, RelativeOutput: 0.3}, {AmbientCelsius: 25, RelativeOutput: 1}, {AmbientCelsius: 40, RelativeOutput: 0.9}}
	light, _ := concerns(losses.TemperatureAdvice(s))
	assert.Contains(t, light, "outside the lamp's points of light over temperature, -10 °C (14 °F) to 40 °C (104 °F): 0.3 of the nearest is held")
	s.AmbientCelsius, s.RatedAtCelsius = 25, 35
	light, _ = concerns(losses.TemperatureAdvice(s))
	assert.Contains(t, light, "give 0.93 at 35 °C (95 °F)")
}

func TestStarting(t *testing.T) {
	f := photometry.CelsiusFromFahrenheit
	electronic := &losses.BallastStart{Name: "electronic", FromCelsiusLow: f(0), FromCelsiusHigh: f(50), Source: "public ballast pages"}
	magnetic := &losses.BallastStart{Name: "magnetic", FromCelsiusLow: nan, FromCelsiusHigh: nan, Source: "no figure"}
	unknown := &losses.BallastStart{Name: "", FromCelsiusLow: nan, FromCelsiusHigh: nan, Source: ""}
	for _, c := range []struct {
		name           string
		ambient, least float64
		ballast        *losses.BallastStart
		says           []string
	}{
		{"too cold for an energy-saving lamp", f(59), f(60), nil, []string{"below the least for this lamp, 16 °C (60 °F): it may not start"}}, // 60 F: utility energy library, seen
		{"at the least ambient", f(60), f(60), nil, nil},
		{"ambient not known", nan, 15, electronic, nil},
		{"an LED tube within its range", -18, -20, nil, nil},
		{"an LED tube below its range", -30, -20, nil, []string{"may not start"}},
		{"electronic at 50 °F", f(50), nan, electronic, nil},
		{"electronic at 40 °F", f(40), nan, electronic, []string{"electronic ballasts start some from -18 °C (0 °F), others only from 10 °C (50 °F)", "printed"}},
		{"electronic at 0 °F", f(0), nan, electronic, []string{"others only from"}},
		{"electronic at -5 °F", f(-5), nan, electronic, []string{"below -18 °C (0 °F), the lowest from which electronic ballasts"}},
		{"magnetic at 50 °F", f(50), nan, magnetic, nil},
		{"magnetic at 20 °F", f(20), nan, magnetic, []string{"is not known", "(magnetic ballasts: no figure)"}},
		{"a ballast not named at 20 °F", f(20), nan, unknown, []string{"is not known", "printed"}},
		{"lamp and ballast", f(40), f(60), electronic, []string{"least for this lamp", "others only from"}},
	} {
		s := t8(c.ambient)
		s.LeastAmbientCelsius, s.Ballast = c.least, c.ballast
		_, starting := concerns(losses.TemperatureAdvice(s))
		assert.Equal(t, len(c.says) == 0, starting == "", "%s: %s", c.name, starting)
		for _, words := range c.says {
			assert.Contains(t, starting, words, c.name)
		}
		assert.NotContains(t, starting, "NaN", c.name)
	}
}

// What is far from the end of a life is said, and no failures of an L70 life, which is no median of them.
func TestRelamping(t *testing.T) {
	says := func(hours, life float64, l70, failed bool) string {
		far := losses.RelampingOf(hours, life, l70, failed)
		if far == losses.InTime {
			return ""
		}
		return relamping(far, hours, life)
	}
	for _, quiet := range []string{says(14000, 20000, false, false), says(8000, 20000, false, false), says(0, 20000, false, false),
		says(16000, 0, false, false), says(50000, 50000, true, false), says(16000, 20000, false, true)} {
		assert.Empty(t, quiet)
	}
	late := says(16000, 20000, false, false)
	assert.Contains(t, late, "80 percent of the rated life of 20,000 h, at which half have failed (over 70 counts as far)")
	assert.Contains(t, late, "losses.lamp_burnout")
	early := says(7900, 50000, true, true)
	assert.Contains(t, early, "16 percent of the L70 life of 50,000 h (under 40 counts as far from it)")
	beyond := says(60000, 50000, true, false)
	assert.Contains(t, beyond, "less than 70 percent of their lumens are left")
	for _, led := range []string{early, beyond} {
		assert.NotContains(t, led, "failed", "an L70 life is no median of failures")
	}
}
