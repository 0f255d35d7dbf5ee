package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"lampswap/photometry/cavity"
)

// floorOfTable is the effective floor cavity reflectance for which coefficients of utilization are tabulated, as is usual.
const floorOfTable = 0.20

type jsonFixture struct {
	Lumens                  number       `json:"lumens"`
	LampLumens              number       `json:"lamp_lumens"`
	Efficiency              number       `json:"efficiency"`
	Absolute                bool         `json:"absolute"`
	PhotometricType         string       `json:"photometric_type"`
	InputWatts              number       `json:"input_watts"`
	Luminous                jsonLuminous `json:"luminous"`
	ZonalLumens             []number     `json:"zonal_lumens"`
	UpwardShare             number       `json:"upward_share"`
	SpacingCriterionAlong   number       `json:"spacing_criterion_along"`
	SpacingCriterionAcross  number       `json:"spacing_criterion_across"`
	MaintenanceCategory     string       `json:"maintenance_category_suggested"`
	Computed                bool         `json:"computed"`
	CoefficientsUtilization jsonCUTable  `json:"coefficients_of_utilization"`
	Warnings                []string     `json:"warnings"`
}

type jsonLuminous struct {
	Length number `json:"length"`
	Width  number `json:"width"`
	Height number `json:"height"`
}

type jsonCUTable struct {
	Floor number      `json:"floor"`
	Rows  []jsonCURow `json:"rows"`
}

type jsonCURow struct {
	RoomCavityRatio number `json:"room_cavity_ratio"`
	Ceiling         number `json:"ceiling"`
	Walls           number `json:"walls"`
	Value           number `json:"value"`
}

func (d described) spacing(plane float64) float64 {
	if c, ok := d.luminaire.Distribution.SpacingCriterion(plane); ok {
		return c
	}
	return math.NaN()
}

func (d described) writeJSON(w io.Writer) error {
	f := d.file
	out := jsonFixture{
		Lumens: number(d.luminaire.Distribution.Flux()), LampLumens: number(d.luminaire.LampLumens), Efficiency: number(d.luminaire.Efficiency()),
		Absolute: d.luminaire.Absolute, PhotometricType: f.Type.String(), InputWatts: number(f.InputWatts),
		Luminous:    jsonLuminous{number(f.Length), number(f.Width), number(f.Height)},
		UpwardShare: number(d.upwardShare()), SpacingCriterionAlong: number(d.spacing(0)), SpacingCriterionAcross: number(d.spacing(math.Pi / 2)),
		MaintenanceCategory: d.category, Computed: d.computed, Warnings: append([]string{}, d.notes...),
		CoefficientsUtilization: jsonCUTable{Floor: floorOfTable},
	}
	for _, z := range d.luminaire.Distribution.ZonalFlux() {
		out.ZonalLumens = append(out.ZonalLumens, number(z))
	}
	for _, e := range cavity.Table(cavity.FluxesOf(d.luminaire).Share, floorOfTable) {
		out.CoefficientsUtilization.Rows = append(out.CoefficientsUtilization.Rows,
			jsonCURow{number(e.RoomCavityRatio), number(e.Ceiling), number(e.Walls), number(e.CoefficientOfUtilization)})
	}
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(out)
}

func (d described) writeText(w io.Writer) {
	l, f := d.luminaire, d.file
	line := func(name, format string, args ...any) {
		fmt.Fprintln(w, hung(fmt.Sprintf("  %-34s", name), fmt.Sprintf(format, args...)))
	}
	fmt.Fprintf(w, "%s\n\n", d.name)
	lamps := "lamp lumens"
	if l.Absolute {
		lamps = "own lumens, absolute photometry"
	}
	line(lamps, "%.0f lm", l.LampLumens)
	line("luminaire lumens", "%.0f lm", l.Distribution.Flux())
	line("efficiency", "%.3f", l.Efficiency())
	line("upward, downward", "%.1f %%, %.1f %%", 100*d.upwardShare(), 100*(1-d.upwardShare()))
	line("spacing criterion along, across", "%s, %s", decimals(2)(d.spacing(0)), decimals(2)(d.spacing(math.Pi/2)))
	line("luminous opening", "%s, %s", f.Shape(), strings.TrimSpace(fmt.Sprintf("%g x %g x %g %s", f.Length, f.Width, f.Height, f.Units)))
	line("photometric file", "%s, type %s", f.Edition, f.Type)
	if f.InputWatts > 0 {
		line("input", "%g W, ballast factor %g", f.InputWatts, f.BallastFactor)
	}
	line("maintenance category, suggested", "%s", d.category)
	d.writeZones(w)
	d.writeUtilization(w)
	list(w, "Notes", d.notes)
}

func (d described) writeZones(w io.Writer) {
	fmt.Fprint(w, "\nLumens by ten-degree zones from straight down\n")
	zones := d.luminaire.Distribution.ZonalFlux()
	for half, name := range []string{"0 to 90", "90 to 180"} {
		fmt.Fprintf(w, "  %-10s", name)
		for _, z := range zones[half*9 : half*9+9] {
			fmt.Fprintf(w, "%7.0f", z)
		}
		fmt.Fprintln(w)
	}
}

// writeUtilization prints the coefficients in percent, a block of ceilings at a time so that it keeps within the width.
func (d described) writeUtilization(w io.Writer) {
	fmt.Fprintf(w, "\nCoefficients of utilization, percent, floor cavity %.0f %%\n", 100*floorOfTable)
	entries := cavity.Table(cavity.FluxesOf(d.luminaire).Share, floorOfTable)
	perRatio := len(entries) / 11 // ratios 0 to 10
	for _, block := range [][2]int{{0, 12}, {12, perRatio}} {
		ceilings, walls := "  ceiling   ", "  walls     "
		for i := block[0]; i < block[1]; i++ {
			ceiling := ""
			if i == block[0] || entries[i].Ceiling != entries[i-1].Ceiling {
				ceiling = fmt.Sprintf("%.0f", 100*entries[i].Ceiling)
			}
			ceilings += fmt.Sprintf("%5s", ceiling)
			walls += fmt.Sprintf("%5.0f", 100*entries[i].Walls)
		}
		fmt.Fprintf(w, "%s\n%s\n", ceilings, walls)
		for r := range 11 {
			row := entries[r*perRatio+block[0] : r*perRatio+block[1]]
			fmt.Fprintf(w, "  ratio %-4.0f", row[0].RoomCavityRatio)
			for _, e := range row {
				fmt.Fprintf(w, "%5.0f", 100*e.CoefficientOfUtilization)
			}
			fmt.Fprintln(w)
		}
	}
	list(w, "Procedure", []string{cavity.Source()})
}
