package typeset

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestText(t *testing.T) {
	for from, want := range map[string]string{
		"2 x F96T12":                     "2 × F96T12",
		"-29 %":                          "−29 %",
		"rectangular, -10 to +10":        "rectangular, −10 to +10",
		"(-3 percent)":                   "(−3 percent)",
		"LED-T8-4FT-18.5W-B, 2026-04-30": "LED-T8-4FT-18.5W-B, 2026-04-30",
		"10-foot strips":                 "10-foot strips",
		"-":                              "–",
		">=10.0 W/ft2":                   "≥ 10.0 W/ft²",
	} {
		assert.Equal(t, want, Text(from))
	}
}

func TestCount(t *testing.T) {
	assert.Equal(t, "1 row", Count(1, "row"))
	assert.Equal(t, "0 rows", Count(0, "row"))
	assert.Equal(t, "12 rows", Count(12, "row"))
}

func TestCapital(t *testing.T) {
	for from, want := range map[string]string{"": "", "average": "Average", "über": "Über", "  of these": "  of these", "kWh a year": "kWh a year", "kW": "kW", "h a year": "h a year", "height": "Height"} {
		assert.Equal(t, want, Capital(from))
	}
}
