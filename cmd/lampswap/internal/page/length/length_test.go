package length

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Lengths as people write them, in a job in feet and in one in meters.
func TestParse(t *testing.T) {
	for typed, feet := range map[string]float64{
		`18'6"`: 18.5, `18' 6"`: 18.5, `18'-6"`: 18.5, "18'6": 18.5, "18 ft 6 in": 18.5, "18ft6in": 18.5, "18 feet 6 inches": 18.5, "18 ft. 6 in.": 18.5, "18′ 6″": 18.5,
		"18’6”": 18.5, "18'6''": 18.5, "18 1/2": 18.5, "18-1/2": 18.5, "18½": 18.5, "18.5": 18.5, "18.5'": 18.5, "222 in": 18.5, `222"`: 18.5, "18 1/2 ft": 18.5,
		`6"`: 0.5, "6 1/2 in": 6.5 / 12, "1/2": 0.5, "3/4 in": 0.0625, `18' 6 1/2"`: 18 + 6.5/12, "18' 1/2\"": 18 + 0.5/12, ".5": 0.5, "7.": 7, "0": 0, "-2": -2, `-2'6"`: -2.5,
		"5.5 m": 5.5 / 0.3048, "5.5m": 5.5 / 0.3048, "550 cm": 5.5 / 0.3048, "5500 mm": 5.5 / 0.3048, "5 m 50 cm": 5.5 / 0.3048, "5.5 METERS": 5.5 / 0.3048, "18 ft": 18,
	} {
		got, ok := Parse(typed, true)
		require.True(t, ok, typed)
		assert.InDelta(t, feet, got, 1e-9, typed)
		meters, ok := Parse(typed, false)
		require.True(t, ok, typed)
		if want := feet * 0.3048; strings.ContainsAny(typed, `'"fimFI′″’”`) || strings.Contains(typed, "cm") || strings.Contains(typed, "METERS") {
			assert.InDelta(t, want, meters, 1e-9, typed)
		} else {
			assert.InDelta(t, feet, meters, 1e-9, "%s: in the job's unit", typed)
		}
	}
}

// What is no length, or might be one of two, is not guessed.
func TestNoLength(t *testing.T) {
	for _, typed := range []string{"", " ", "high", "18 6", "18-6", "5' 14\"", "5.5' 3\"", "6\" 3'", "18 3/2", "18 1/0", "1.5 1/2", "18'6\"3", "5 m 3 in", "5 yd", "1,200", "5,5", "--2", "- ", "18'-",
		"1e5", "NaN", "inf", "0x10", "18 ft 6 furlongs", "18''6'", "3 m 200 cm", "/2", "1/"} {
		for _, imperial := range []bool{true, false} {
			x, ok := Parse(typed, imperial)
			assert.False(t, ok, "%q is taken for %g", typed, x)
		}
	}
}

// Every sixteenth of an inch is shown so that it is read back, and however it is written it is the same.
func TestWordsAreReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(-100*perFoot, 2000*perFoot).Draw(t, "sixteenths")
		feet := float64(n) / perFoot
		words := Words(feet)
		for _, typed := range []string{words, strings.NewReplacer(" ft ", "'", " ft", "'", " in", `"`).Replace(words), strings.ReplaceAll(words, " ft ", " ft, "), " " + strings.ToUpper(words) + " ",
			fmt.Sprintf("%.6f m", feet*0.3048), fmt.Sprintf("%.8f", feet)} {
			got, ok := Parse(typed, true)
			if !ok || math.Abs(got-feet) > 1e-5 {
				t.Fatalf("%g ft is %q, read as %g, %v", feet, typed, got, ok)
			}
			if again := Words(got); again != words {
				t.Fatalf("%q is shown as %q after %q", typed, again, words)
			}
		}
		if IsWhole(feet) != (n%perFoot == 0) {
			t.Fatalf("%g ft: whole %v", feet, IsWhole(feet))
		}
	})
}

// No text makes it do anything but answer.
func TestAnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.OneOf(rapid.String(), rapid.StringMatching(`[0-9./'" -]{0,12}(ft|in|m|cm)?[0-9 /'"]{0,6}`)).Draw(t, "typed")
		if x, ok := Parse(typed, true); math.IsNaN(x) || ok && math.IsInf(x, 0) {
			t.Fatalf("%q is %g", typed, x)
		}
	})
}
