package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
)

// The keys that people script against, and what they must be consistent with.
func TestJSONKeepsTheContract(t *testing.T) {
	var out, errs bytes.Buffer
	require.Equal(t, exit.Done, run([]string{"check", "--format", "json", "--points"}, os.Stdin, &out, &errs), errs.String())
	var top map[string]any
	require.NoError(t, json.Unmarshal(out.Bytes(), &top))
	has(t, top, "job existing proposed criteria energy defaults warnings cautions")
	has(t, top["job"], "title units length_unit illuminance_unit")
	for _, name := range []string{"existing", "proposed"} {
		s := top[name].(map[string]any)
		has(t, s, "luminaires input_watts_each power_density lamp_lumens_each luminaire_efficiency light_loss lumen_method grids")
		has(t, s["light_loss"], "ballast_factor lamp_lumen_depreciation luminaire_dirt_depreciation room_surface_dirt_depreciation lamp_burnout temperature voltage other total judged_at_hours")
		has(t, s["lumen_method"], "room_cavity_ratio ceiling_cavity_ratio floor_cavity_ratio effective_ceiling_reflectance effective_floor_reflectance "+
			"coefficient_of_utilization initial_average maintained_average spacing_criterion_along spacing_criterion_across spacing_to_height_along spacing_to_height_across")
		factors := s["light_loss"].(map[string]any)
		product := 1.0
		for key := range strings.FieldsSeq("ballast_factor lamp_lumen_depreciation luminaire_dirt_depreciation room_surface_dirt_depreciation lamp_burnout temperature voltage other") {
			product *= factors[key].(float64)
		}
		assert.Equal(t, "mid-life", s["judged_at"])
		assert.InEpsilon(t, product, factors["total"], 1e-12, "rounding: total is the product of all")
		kept := factors["total"].(float64) / factors["ballast_factor"].(float64)
		balance := s["interreflection"].(map[string]any)
		assert.InEpsilon(t, balance["emitted"], balance["absorbed"], 1e-3, "all light that is emitted is absorbed; discretisation, 0.1 percent")
		grids := s["grids"].([]any)
		assert.Equal(t, "work plane", grids[0].(map[string]any)["name"])
		for _, g := range grids {
			checkGrid(t, g.(map[string]any), kept)
		}
	}
	for _, c := range top["criteria"].([]any) {
		has(t, c, "name grid statistic required direction existing proposed existing_met proposed_met source")
	}
}

func has(t *testing.T, object any, keys string) {
	t.Helper()
	for key := range strings.FieldsSeq(keys) {
		assert.Contains(t, object, key)
	}
}

// checkGrid holds a grid's shape, maintained = (direct + interreflected) x total / ballast_factor, and the average to its points.
func checkGrid(t *testing.T, g map[string]any, kept float64) {
	t.Helper()
	has(t, g, "name plane nx ny average minimum maximum average_to_minimum maximum_to_minimum coefficient_of_variation x y initial_direct initial_interreflected maintained")
	nx, ny := int(g["nx"].(float64)), int(g["ny"].(float64))
	assert.Len(t, g["x"], nx)
	assert.Len(t, g["y"], ny)
	sum, least := 0.0, math.Inf(1)
	rows := func(key string) []any { return g[key].([]any) }
	require.Len(t, rows("maintained"), ny)
	for j := range ny {
		direct, bounced, maintained := rows("initial_direct")[j].([]any), rows("initial_interreflected")[j].([]any), rows("maintained")[j].([]any)
		require.Len(t, maintained, nx)
		for i := range nx {
			m := maintained[i].(float64)
			assert.InEpsilon(t, (direct[i].(float64)+bounced[i].(float64))*kept, m, 1e-12)
			sum, least = sum+m, min(least, m)
		}
	}
	assert.InEpsilon(t, sum/float64(nx*ny), g["average"], 1e-12)
	assert.InEpsilon(t, least, g["minimum"], 1e-12)
}
