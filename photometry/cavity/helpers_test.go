package cavity_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
)

// Tolerance of two ways to the same number: rounding only, relative to numbers of about 1.
const rounding = 1e-12

// readRows returns the rows of a file in testdata, by column. Lines that start with # tell where the values come from.
func readRows(t *testing.T, file string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + file)
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	reader := csv.NewReader(f)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for _, record := range records[1:] {
		row := make(map[string]string, len(record))
		for i, name := range records[0] {
			row[name] = record[i]
		}
		rows = append(rows, row)
	}
	require.NotEmpty(t, rows)
	return rows
}

func number(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(row[column], 64)
	require.NoError(t, err, "column %s", column)
	return x
}

type shares = [photometry.Zones]float64

// byZone fills the zones with the flux, a function that falls from nadir (0) to zenith (π), between their edges.
func byZone(beyond func(angle float64) float64) shares {
	var s shares
	for i := range s {
		s[i] = beyond(float64(i)*math.Pi/photometry.Zones) - beyond(float64(i+1)*math.Pi/photometry.Zones)
	}
	return s
}

// cosinePowerDown is the share of flux that an intensity cos^(power-1) γ, downward only, sends beyond an angle.
func cosinePowerDown(power float64) func(float64) float64 {
	return func(g float64) float64 { return math.Pow(math.Max(0, math.Cos(g)), power) }
}

// diffuse is the luminaire of the hand example: intensity as the cosine from nadir, all lumens emitted.
func diffuse() shares { return byZone(cosinePowerDown(2)) }

func mirrored(s shares) shares {
	var m shares
	for i := range s {
		m[photometry.Zones-1-i] = s[i]
	}
	return m
}

// drawShares draws a luminaire that emits part or all of its lamps' lumens.
func drawShares(t *rapid.T) shares {
	var s shares
	total := 0.0
	for i := range s {
		s[i] = rapid.Float64Range(0, 1).Draw(t, "zone")
		total += s[i]
	}
	efficiency := rapid.Float64Range(0.1, 1).Draw(t, "efficiency")
	for i := range s {
		s[i] *= efficiency / math.Max(total, 1e-3)
	}
	return s
}

func drawReflectance(t *rapid.T, name string) float64 {
	return rapid.Float64Range(0, 0.95).Draw(t, name)
}

func drawRatio(t *rapid.T) float64 { return rapid.Float64Range(0.1, 12).Draw(t, "room cavity ratio") }
