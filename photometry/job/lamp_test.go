package job_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/job"
)

// typedTube is a part of the sound job that is wrong below in one place.
const typedTube = "photometry = \"strip.ies\"\nlamps = 4\nlamp_lumens = 2800.0\nballast_factor = 0.88\ninput_watts = 112.0\n"

// led is an LED tube in place of it, with more keys.
func led(keys string) string {
	return "fixture = \"strip-4in\"\nlamps = 4\nlamp_kind = \"led\"\nlamp_lumens = 2000.0\n" + keys
}

// wrongLamps are lamps that a job describes, wrong in one place each.
var wrongLamps = []wrong{
	{typedTube, led("lamp_watts = 15.0\nlamp_kindd = \"led\"\n"), `dock.toml:31:14: proposed.lamp_kindd: is not a known key, want lamp_kind, perhaps`},
	{typedTube, "fixture = \"strip-4in\"\nlamps = 4\nlamp_kind = \"LED\"\nlamp_lumens = 2000.0\nlamp_diameter = \"1 in\"\nballast_factor = 0.9\ninput_watts = 60.0\n",
		`dock.toml:28:13: proposed.lamp_kind: "LED" is not known, want one of fluorescent, led (led?)`},
	{typedTube, "photometry = \"strip.ies\"\nlamps = 4\nlamp_kind = \"led\"\nlamp = \"F32T8/800\"\nballast = \"is-normal\"\n",
		`dock.toml:28:13: proposed.lamp_kind: "led" contradicts the lamp F32T8/800, want the lamp's own kind, or no lamp of the list`},
	{typedTube, "photometry = \"strip.ies\"\nlamps = 4\nled_type = \"B\"\nlamp_lumens = 2000.0\nballast_factor = 0.9\ninput_watts = 60.0\n",
		`dock.toml:28:12: proposed.led_type: stands with a fluorescent lamp, want lamp_kind = "led" too, or no led_type`},
	{typedTube, led("led_type = \"D\"\nlamp_watts = 15.0\n"), `dock.toml:30:12: proposed.led_type: "D" is not known, want one of A, B, C (A?)`},
	{typedTube, "photometry = \"strip.ies\"\nlamps = 4\nled_type = \"A\"\nlamp = \"LED-8FT-40W-B\"\n",
		`dock.toml:28:12: proposed.led_type: "A" contradicts the lamp LED-8FT-40W-B, want "B", or no lamp of the list`},
	{typedTube, led("ballast_factor = 0.9\ninput_watts = 60.0\n"), `dock.toml:25:2: proposed.led_type: is missing, want "A" on the ballast that stays, "B" on the line without ballast, "C" on an external driver`},
	{typedTube, led("led_type = \"B\"\n"), `dock.toml:25:2: proposed.lamp_watts: is missing, want the watts of one tube, or input_watts of the luminaire`},
	{typedTube, led("led_type = \"B\"\nlamp_watts = 15.0\nballast = \"is-normal\"\n"),
		`dock.toml:32:11: proposed.ballast: "is-normal" is named for a tube of type B, which runs on the line, want ballast = "none", or no ballast`},
	{typedTube, led("led_type = \"B\"\nlamp_watts = 15.0\nballast_factor = 0.88\n"), `dock.toml:32:18: proposed.ballast_factor: is 0.88 for a tube of type B, which has no ballast, want 1, or no ballast_factor`},
	{typedTube, led("led_type = \"B\"\nlamp_watts = 15.0\ninput_watts = 112.0\n"),
		`dock.toml:32:15: proposed.input_watts: 112 contradicts lamp_watts: 4 tubes of 15 W on the line draw 60 W, want one of the two`},
	{typedTube, led("led_type = \"A\"\nlamp_watts = 15.0\nballast = \"none\"\n"),
		`dock.toml:32:11: proposed.ballast: "none" is named for a tube of type A, which runs on the ballast that stays, want the ballast, or led_type = "B"`},
	{typedTube, led("led_type = \"A\"\nlamp_watts = 15.0\nballast = \"is-nrmal\"\n"),
		`dock.toml:32:11: proposed.ballast: "is-nrmal" is not in the ballast list, want a name of it such as f32t8-4-is-normal, or ballast_factor and input_watts of the pair from the tube maker's list`},
	{typedTube, led("led_type = \"A\"\nlamp_watts = 15.0\nballast = \"magnetic\"\n"),
		`dock.toml:32:11: proposed.ballast: "magnetic" may be a ballast for F96T12, F96T12/ES, F96T12/HO, F96T12/HO/ES, F40T12, F34T12, want the name of one in the ballast list, such as f32t8-4-is-normal`},
	{typedTube, led("led_type = \"A\"\nballast = \"is-normal\"\n"), `dock.toml:25:2: proposed.lamp_watts: is missing, want the watts of one tube, or input_watts of the tubes on their ballast`},
	{typedTube, led("led_type = \"C\"\nlamp_watts = 15.0\n"), `dock.toml:25:2: proposed.input_watts: is missing, want the watts of the driver with its tubes`},
	{typedTube, led("led_type = \"C\"\nballast = \"is-normal\"\ninput_watts = 60.0\n"),
		`dock.toml:31:11: proposed.ballast: "is-normal" is named for a tube of type C, which has an external driver, want input_watts of the driver with its tubes; led_type = "A" on a ballast`},
	{typedTube, led("lamp_watts = 0.0\n"), `dock.toml:30:14: proposed.lamp_watts: is 0, want a number from 0.001 to 2000`},
	{typedTube, led("lamp_watts = 15.0\nbeam_angle = 0.0\n"), `dock.toml:31:14: proposed.beam_angle: is 0, want a number from 30 to 360`},
	{typedTube, led("lamp_watts = 15.0\nbeam_angle = 400.0\n"), `dock.toml:31:14: proposed.beam_angle: is 400, want a number from 30 to 360`},
	{typedTube, "photometry = \"strip.ies\"\nlamps = 4\nlamp_lumens = 2800.0\nbeam_angle = 120.0\nballast_factor = 0.88\ninput_watts = 112.0\n",
		`dock.toml:29:14: proposed.beam_angle: stands with a fluorescent lamp, which shines all round, want lamp_kind = "led" too, or no beam_angle`},
	{typedTube, led("lamp_watts = 15.0\nrated_life_hours = 5.0\n"), `dock.toml:31:20: proposed.rated_life_hours: is 5, want a number from 100 to 1000000`},
	{typedTube, led("lamp_watts = 15.0\nmean_lumens = 1800.0\n"), `dock.toml:31:15: proposed.mean_lumens: stands with an LED tube, want rated_life_hours, the hours to 70 percent of the lumens (L70)`},
	{typedTube, typedTube + "mean_lumens = 2900.0\n", `dock.toml:31:15: proposed.mean_lumens: 2900 is more than the initial lumens, want at most 2800`},
	{typedTube, led("lamp_watts = 15.0\nminimum_temperature = 90.0\n"), `dock.toml:31:23: proposed.minimum_temperature: is 90, want a number from -60 to 60`},
	{typedTube, led("lamp_watts = 15.0\ncri = 101.0\n"), `dock.toml:31:7: proposed.cri: is 101, want a number from 0 to 100`},
	{typedTube, led("lamp_watts = 15.0\ncct = 40.0\n"), `dock.toml:31:7: proposed.cct: is 40, want a number from 1000 to 25000`},
	{typedTube, led("lamp_watts = 15.0\nlamp_length = \"4 feet\"\n"),
		`dock.toml:31:15: proposed.lamp_length: "4 feet" is no length with its unit, want 3.937 to 196.9 in or 100 to 5000 mm, as "1.1 in" or "28 mm"; a bare number is in m, 0.1 to 5`},
	{typedTube, led("lamp_watts = 15.0\nlamp_diameter = \"2 in\"\n"), // what the fixture takes
		`dock.toml:31:17: proposed.lamp_diameter: "2 in" is out of range, want 0.1969 to 1.5 in or 5 to 38.1 mm, as "1.1 in" or "28 mm"; a bare number is in m, 0.005 to 0.0381`},
	{typedTube, led("lamp_watts = 15.0\nlamp_diameter = 1.1\n"),
		`dock.toml:31:17: proposed.lamp_diameter: is 1.1, want 0.1969 to 1.5 in or 5 to 38.1 mm, as "1.1 in" or "28 mm"; a bare number is in m, 0.005 to 0.0381`},
	{typedTube, "photometry = \"strip.ies\"\nlamps = 4\nlamp = \"F32T8/800\"\nlamp_lumens = 6000.0\nballast = \"is-normal\"\n",
		`dock.toml:29:15: proposed.lamp_lumens: 6000 lm contradict the lamp F32T8/800, which gives 2950 lm, want lumens of that lamp, or no lamp of the list`},
}

// figures are the keys that describe a lamp of the list.
func figures(l catalog.Lamp, lamps int) string {
	keys := []string{fmt.Sprintf("lamp_lumens = %v", l.InitialLumens), fmt.Sprintf("lamp_watts = %v", l.RatedWatts),
		fmt.Sprintf("lamp_length = \"%v in\"", l.NominalLength/photometry.Inch), fmt.Sprintf("rated_life_hours = %v", l.RatedLifeHours), fmt.Sprintf("cri = %v", l.ColorRendering)}
	if l.Diameter > 0 {
		keys = append(keys, fmt.Sprintf("lamp_diameter = \"%v mm\"", 1000*l.Diameter))
	}
	if !math.IsNaN(l.LeastAmbientCelsius) {
		keys = append(keys, fmt.Sprintf("minimum_temperature = %v", l.LeastAmbientCelsius))
	}
	if l.LED {
		keys = append(keys, `lamp_kind = "led"`, fmt.Sprintf("led_type = %q", l.LEDType))
		if l.BeamDeg > 0 {
			keys = append(keys, fmt.Sprintf("beam_angle = %v", l.BeamDeg))
		}
	} else {
		keys = append(keys, `lamp_kind = "fluorescent"`, fmt.Sprintf("mean_lumens = %v", l.Mean()))
	}
	return strings.Join(keys, "\n") + fmt.Sprintf("\nlamps = %d\n", lamps)
}

// Every lamp of the list, typed in by its own figures, is the same lamp: light, ballast, watts, and what dated rules are about it.
func TestEveryLampByItsFigures(t *testing.T) {
	for _, l := range catalog.Lamps() {
		feeds := catalog.BallastsFor(l, 2)
		require.NotEmpty(t, feeds, l.Name)
		ballast := fmt.Sprintf("ballast = %q\n", feeds[0].Kind)
		const fixed = "fixture = \"strip-4in\"\n"
		named := read(t, replaced(t, sound, typedTube, fixed+fmt.Sprintf("lamp = %q\nlamps = 2\n", l.Name)+ballast)).Proposed
		typed := read(t, replaced(t, sound, typedTube, fixed+figures(l, 2)+ballast)).Proposed
		require.NotNil(t, typed.Lamp, l.Name)
		assert.True(t, named.Lamp.Same(*typed.Lamp), "%+v %+v", *named.Lamp, *typed.Lamp)
		assert.InEpsilon(t, named.LampLumens, typed.LampLumens, 1e-9, l.Name)
		assert.Equal(t, []float64{named.BallastFactor, named.InputWatts}, []float64{typed.BallastFactor, typed.InputWatts}, l.Name)
		assert.InEpsilon(t, named.Luminaire.Distribution.Flux(), typed.Luminaire.Distribution.Flux(), 1e-9, l.Name)
		assert.InEpsilon(t, named.Luminaire.Opening.Length, typed.Luminaire.Opening.Length, 1e-9, l.Name)
		assert.InEpsilon(t, named.Lamp.Mean()+1, typed.Lamp.Mean()+1, 1e-9, l.Name)
		assert.Equal(t, named.Lamp.L70, typed.Lamp.L70, l.Name)
		assert.Equal(t, named.Touches(true), typed.Touches(true), l.Name)
		wattsBefore, _, ok := named.LegalCeiling()
		wattsAfter, _, also := typed.LegalCeiling()
		assert.Equal(t, []any{wattsBefore, ok}, []any{wattsAfter, also}, l.Name)
	}
}

// Every LED tube of the list works by its name in every built-in fixture, without a ballast or a diameter being told; what was taken is listed.
func TestEveryTubeInEveryFixture(t *testing.T) {
	for _, l := range catalog.Lamps() {
		if !l.LED {
			continue
		}
		for _, name := range fixture.Builtin() {
			j := read(t, replaced(t, sound, typedTube, fmt.Sprintf("fixture = %q\nlamp = %q\nlamps = 2\n", name, l.Name)))
			p := j.Proposed
			assert.Equal(t, 1.0, p.BallastFactor, "%s in %s", l.Name, name)
			assert.InEpsilon(t, 2*l.RatedWatts, p.InputWatts, 1e-12, "%s in %s", l.Name, name)
			assert.Positive(t, p.Luminaire.Efficiency(), "%s in %s", l.Name, name)
			listed := func(key string) bool {
				return slices.ContainsFunc(j.Defaults, func(d job.Default) bool { return d.Key == "proposed."+key })
			}
			assert.True(t, listed("ballast"), l.Name)
			assert.Equal(t, l.Diameter == 0, listed("lamp_diameter"), l.Name)
			assert.Equal(t, l.BeamDeg == 0, listed("beam_angle"), l.Name)
		}
	}
}

// How LED tubes are fed, by their type: on the ballast that stays light by its factor and watts in proportion, on the line lamps x watts,
// on a driver as the job says.
func TestTubesByTheirType(t *testing.T) {
	of := func(keys string) job.System { return read(t, replaced(t, sound, typedTube, led(keys))).Proposed }
	a := of("led_type = \"A\"\nlamp_watts = 16.0\nballast = \"is-normal\"\n") // that of the existing F32T8/700
	require.NotNil(t, a.Ballast)
	assert.Equal(t, []any{"f32t8-4-is-normal", 0.88, 112 * 16.0 / 32}, []any{a.Ballast.Name, a.BallastFactor, a.InputWatts})
	assert.Equal(t, a.InputWatts, of("led_type = \"A\"\nlamp_watts = 16.0\nballast = \"f32t8-4-is-normal\"\n").InputWatts)
	given := of("led_type = \"A\"\nlamp_watts = 16.0\nballast = \"is-normal\"\ninput_watts = 66.0\n")
	assert.Equal(t, []float64{0.88, 66}, []float64{given.BallastFactor, given.InputWatts}, "the pair's watts go first")
	free := of("led_type = \"A\"\nballast_factor = 1.0\ninput_watts = 70.0\n")
	assert.Equal(t, []float64{1, 70}, []float64{free.BallastFactor, free.InputWatts})
	b := of("lamp_watts = 16.0\n")
	assert.Equal(t, []any{catalog.OnLine, 1.0, 64.0}, []any{b.Lamp.LEDType, b.BallastFactor, b.InputWatts}, "B, as no ballast is named")
	assert.Equal(t, 16.0, of("led_type = \"B\"\ninput_watts = 64.0\n").Lamp.RatedWatts)
	c := of("led_type = \"C\"\ninput_watts = 70.0\n")
	assert.Equal(t, []float64{1, 70}, []float64{c.BallastFactor, c.InputWatts})
	assert.Nil(t, c.Ballast)
	assert.Equal(t, 0.9, of("led_type = \"C\"\ninput_watts = 70.0\nballast_factor = 0.9\n").BallastFactor)
	// A photometric file's own ballast factor is of its fluorescent ballast.
	file := read(t, replaced(t, sound, typedTube, "photometry = \"strip.ies\"\nlamps = 4\nlamp = \"LED-T8-4FT-18W-B\"\n")).Proposed
	assert.Equal(t, []float64{1, 72}, []float64{file.BallastFactor, file.InputWatts})
}

// A diameter is a text with its unit, or a number in the job's unit.
func TestDiameters(t *testing.T) {
	for written, want := range map[string]float64{`"1.1 in"`: 1.1 * photometry.Inch, `"28 mm"`: 0.028, `"1\""`: photometry.Inch, `"2.6cm"`: 0.026, `0.026`: 0.026} {
		p := read(t, replaced(t, sound, typedTube, led("lamp_watts = 15.0\nlamp_diameter = "+written+"\n"))).Proposed
		assert.InEpsilon(t, want, p.Tubes.Diameter, 1e-12, written)
	}
}
