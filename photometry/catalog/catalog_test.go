package catalog

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
)

func find(t *testing.T, name string) Lamp {
	t.Helper()
	lamp, ok := FindLamp(name)
	require.True(t, ok, name)
	return lamp
}

func TestLampsAreWithinReason(t *testing.T) {
	require.Len(t, Lamps(), 22)
	names := map[string]bool{}
	for _, l := range Lamps() {
		t.Run(l.Name, func(t *testing.T) {
			for _, name := range append([]string{l.Name}, l.aliases...) {
				assert.False(t, names[plainName(name)], "two lamps answer to %s", name)
				names[plainName(name)] = true
			}
			assert.NotEmpty(t, l.Source)
			assert.NotEmpty(t, l.Confidence)
			assert.NotEmpty(t, l.DepreciationFrom)
			assert.Contains(t, []float64{46, 48, 96}, math.Round(l.NominalLength/photometry.Inch))
			if l.Length > 0 { // a lamp is no longer than the space it takes
				assert.InDelta(t, l.NominalLength, l.Length, 0.025)
			}
			if l.LED {
				assert.Zero(t, l.LampLumenDepreciation)
				assert.Equal(t, l.RatedLifeHours > 0, l.L70)
				assert.True(t, l.BeamDeg >= 0 && l.BeamDeg <= 360)
			} else {
				assert.Zero(t, l.BeamDeg, "a fluorescent lamp shines all round")
				assert.False(t, l.L70)
				assert.True(t, l.LampLumenDepreciation > 0.8 && l.LampLumenDepreciation < 1)
				assert.LessOrEqual(t, l.InitialLumensLow, l.InitialLumens)
				assert.True(t, l.InitialLumensHigh == 0 || l.InitialLumensHigh >= l.InitialLumens)
				assert.Less(t, l.MeanLumens, l.InitialLumens)
				assert.True(t, l.RatedLifeHours >= 12000 && l.RatedLifeHours <= 30000)
				assert.True(t, l.RatedLifeHours12Hour == 0 || l.RatedLifeHours12Hour > l.RatedLifeHours, "fewer starts, longer life")
				assert.True(t, l.Diameter >= 0.015 && l.Diameter <= 0.0382)
			}
			if l.RatedWatts > 0 {
				efficacy := l.InitialLumens / l.RatedWatts
				assert.True(t, efficacy > 60 && efficacy < 190, "%v lm/W", efficacy)
			}
			if least, ok := l.LegalMinimumLumens(); ok {
				assert.GreaterOrEqual(t, l.InitialLumens, least)
			}
		})
	}
}

// Source: 42 USC 6295(i)(1)(B), seen; lumens are its lumens per watt times rated watts, derived.
func TestLegalMinimumLumens(t *testing.T) {
	for name, want := range map[string]float64{
		"F96T12": 6000, "F96T12/ES": 4800, "F96T12/HO": 8800, "F96T12/HO/ES": 7600, "F40T12": 3000, "F34T12": 2550,
	} {
		got, ok := find(t, name).LegalMinimumLumens()
		assert.True(t, ok, name)
		assert.InEpsilon(t, want, got, 1e-12, name) // rounding
	}
	_, ok := find(t, "F32T8/800").LegalMinimumLumens()
	assert.False(t, ok)
}

func TestLampFiguresAsPrinted(t *testing.T) {
	for _, c := range []struct {
		name                string
		initial, mean, life float64
		depreciation        float64 // to the three digits printed
		memory              bool    // lumens or depreciation
		source              string
	}{
		{"F32T8/800", 2950, 2773, 24000, 0.940, false, "public data sheet, 5000 K, seen"},
		{"F32T8/700", 2850, 2675, 20000, 0.939, false, "initial: trade association page; mean: lighting laboratory article; seen; life memory"},
		{"F32T8/HL", 3100, 2915, 24000, 0.940, false, "lighting laboratory article on the class limits, seen"},
		{"F40T12", 3050, 2520, 20000, 0.826, false, "EPA lighting fundamentals, 1997, and a 1995 catalogue figure, seen; life memory"},
		{"F54T5/HO", 5000, 4650, 25000, 0.930, false, "public data sheet, 3500 K, seen"},
		{"F28T8", 2700, 0, 24000, 0.94, true, "94 percent: trade article, seen; lumens memory, unverified"},
		{"F96T12", 6000, 0, 12000, 0.885, true, "middle of .85 and .92, memory, unverified"},
	} {
		l := find(t, c.name)
		assert.Equal(t, c.initial, l.InitialLumens, c.name)
		assert.Equal(t, c.mean, l.MeanLumens, c.name)
		assert.Equal(t, c.life, l.RatedLifeHours, c.name)
		assert.InDelta(t, c.depreciation, l.LampLumenDepreciation, 0.0005, "%s: %s", c.name, c.source) // print
		assert.Equal(t, c.memory, l.FromMemory(), c.name)
	}
	assert.Equal(t, 25.0, find(t, "F32T8/800").RatedAtCelsius) // trade association page, seen
	assert.Equal(t, 35.0, find(t, "F54T5/HO").RatedAtCelsius)  // trade association page, seen
	for _, name := range []string{"F34T12", "F96T12/ES", "F96T12/HO/ES", "F28T8", "F25T8"} {
		// 60 F: utility energy library (T12), trade article (T8), seen
		assert.InDelta(t, (60-32)/1.8, find(t, name).LeastAmbientCelsius, 1e-12, name)
	}
	assert.InDelta(t, -20, find(t, "LED-T8-4FT-18W-B").LeastAmbientCelsius, 1e-12) // public data sheet, seen
	assert.True(t, math.IsNaN(find(t, "F96T12").LeastAmbientCelsius))
}

func TestFindLampTakesUsualSpellings(t *testing.T) {
	for asked, want := range map[string]string{
		"f96t12": "F96T12", "F96T12HO": "F96T12/HO", "f96t12/es": "F96T12/ES", "F40T12/ES": "F34T12", "f32t8/800": "F32T8/800",
		"F54T5HO": "F54T5/HO", "led-8ft-40w-b": "LED-8FT-40W-B",
	} {
		assert.Equal(t, want, find(t, asked).Name)
	}
	for _, unknown := range []string{"", "F32T8", "F17T8"} {
		_, ok := FindLamp(unknown)
		assert.False(t, ok, unknown)
	}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(LampNames()).Draw(t, "name")
		for i := range name {
			if rapid.Bool().Draw(t, "lower") {
				name = name[:i] + strings.ToLower(name[i:i+1]) + name[i+1:]
			}
		}
		lamp, ok := FindLamp(name)
		require.True(t, ok)
		require.True(t, strings.EqualFold(name, lamp.Name))
	})
}

func TestListsAreCopies(t *testing.T) {
	Lamps()[0].Name, Ballasts()[0].Name, LampNames()[0] = "changed", "changed", "changed"
	assert.Equal(t, "F96T12", Lamps()[0].Name)
	assert.Equal(t, "f96t12-2-magnetic-standard", Ballasts()[0].Name)
	assert.Equal(t, "F96T12", LampNames()[0])
}
