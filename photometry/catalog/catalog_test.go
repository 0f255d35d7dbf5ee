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
				assert.True(t, l.L70 && l.RatedLifeHours > 0 && l.RatedWatts > 0)
				assert.Contains(t, []LEDType{OnBallast, OnLine, OnDriver}, l.LEDType)
				assert.True(t, l.BeamDeg >= 0 && l.BeamDeg <= 360)
			} else {
				assert.Zero(t, l.BeamDeg, "a fluorescent lamp shines all round")
				assert.False(t, l.L70)
				assert.True(t, l.LampLumenDepreciation > 0.8 && l.LampLumenDepreciation < 1)
				assert.Equal(t, (l.InitialLumensLow+l.InitialLumensHigh)/2, l.InitialLumens, "the middle of what is known")
				assert.Less(t, l.Mean(), l.InitialLumens)
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
		name          string
		low, high     float64 // of what is known of the class
		initial, life float64
		depreciation  float64 // to the three digits printed
		memory        bool    // lumens or depreciation
		source        string
	}{
		{"F32T8/800", 2900, 3000, 2950, 24000, 0.940, false, "public data sheets, 5000 and 6500 K, 2950 / 2773 and 2900 / 2725; a handbook page, 3000; seen"},
		{"F32T8/700", 2800, 2850, 2825, 20000, 0.939, true, "2850: trade association page; mean 2675: lighting laboratory article; seen; the rest memory"},
		{"F32T8/HL", 3100, 3100, 3100, 24000, 0.940, false, "lighting laboratory article on the class limits, 3100 / 2915, seen"},
		{"F40T12", 3000, 3200, 3100, 20000, 0.826, true, "EPA lighting fundamentals, 1997, 3050, and a 1995 catalogue figure, 2520, seen; the rest memory"},
		{"F28T5", 2900, 2900, 2900, 20000, 0.925, true, "2900 at 35 C, its rating: trade association page; 2600 is for 25 C and no part of a range; mean memory"},
		{"F54T5/HO", 4850, 5000, 4925, 25000, 0.930, false, "public data sheets, 3500 K 5000 / 4650, 5000 and 6500 K 4850 / 4500, seen"},
		{"F28T8", 2675, 2750, 2712.5, 24000, 0.94, true, "94 percent: trade article, seen; lumens memory, unverified"},
		{"F96T12", 6000, 6300, 6150, 12000, 0.885, true, "6000: derived from the law; the rest, and .85 and .92, memory, unverified"},
		{"F96T12/ES", 4800, 5600, 5200, 12000, 0.885, true, "4800: derived from the law; the rest memory, unverified"},
		{"LED-8FT-36W-B", 4300, 4300, 4300, 50000, 0, false, "public data sheet, seen"},
	} {
		l := find(t, c.name)
		assert.Equal(t, c.initial, l.InitialLumens, c.name)
		assert.Equal(t, []float64{c.low, c.high}, []float64{l.InitialLumensLow, l.InitialLumensHigh}, c.name)
		assert.InDelta(t, c.initial*c.depreciation, l.Mean(), c.initial*0.0005, c.name) // print
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
