package luminaire

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/cavity"
	"lampswap/photometry/lm63"
	"lampswap/photometry/number"
)

// floorOfTable is the effective floor cavity reflectance for which coefficients of utilization are tabulated, as is usual.
const floorOfTable = 0.20

type jsonFixture struct {
	Lumens                  answer.Number   `json:"lumens"`
	LampLumens              answer.Number   `json:"lamp_lumens"`
	Efficiency              answer.Number   `json:"efficiency"`
	Absolute                bool            `json:"absolute"`
	PhotometricType         string          `json:"photometric_type"`
	InputWatts              answer.Number   `json:"input_watts"`
	Luminous                jsonLuminous    `json:"luminous"`
	ZonalLumens             []answer.Number `json:"zonal_lumens"`
	UpwardShare             answer.Number   `json:"upward_share"`
	SpacingCriterionAlong   answer.Number   `json:"spacing_criterion_along"`
	SpacingCriterionAcross  answer.Number   `json:"spacing_criterion_across"`
	MaintenanceCategory     string          `json:"maintenance_category_suggested"`
	Computed                bool            `json:"computed"`
	CoefficientsUtilization jsonCUTable     `json:"coefficients_of_utilization"`
	Warnings                []string        `json:"warnings"`
	answer.Origin
}

type jsonLuminous struct {
	Length answer.Number `json:"length"`
	Width  answer.Number `json:"width"`
	Height answer.Number `json:"height"`

	Shape    string         `json:"shape"`    // in words, as the signs of the three above mean it
	Diameter *answer.Number `json:"diameter"` // of what is round; its length and width are negative, or one of them 0, in the file
}

type jsonCUTable struct {
	Floor answer.Number `json:"floor"`
	Rows  []jsonCURow   `json:"rows"`
}

type jsonCURow struct {
	RoomCavityRatio answer.Number `json:"room_cavity_ratio"`
	Ceiling         answer.Number `json:"ceiling"`
	Walls           answer.Number `json:"walls"`
	Value           answer.Number `json:"value"`
}

// luminousOf is the luminous opening as its file has it, and what that means.
func luminousOf(f *lm63.File) jsonLuminous {
	out := jsonLuminous{Length: answer.Number(f.Length), Width: answer.Number(f.Width), Height: answer.Number(f.Height), Shape: f.Shape()}
	if d, round := f.Diameter(); round {
		diameter := answer.Number(d)
		out.Diameter = &diameter
	}
	return out
}

func (d Described) spacing(plane float64) float64 {
	if c, ok := d.luminaire.Distribution.SpacingCriterion(plane); ok {
		return c
	}
	return math.NaN()
}

// WriteJSON writes all that is known of the luminaire, lengths as its file has them.
func (d Described) WriteJSON(w io.Writer) error {
	f := d.File
	out := jsonFixture{
		Lumens: answer.Number(d.luminaire.Distribution.Flux()), LampLumens: answer.Number(d.luminaire.LampLumens), Efficiency: answer.Number(d.luminaire.Efficiency()),
		Absolute: d.luminaire.Absolute, PhotometricType: f.Type.String(), InputWatts: answer.Number(f.InputWatts),
		Luminous:    luminousOf(f),
		UpwardShare: answer.Number(d.upwardShare()), SpacingCriterionAlong: answer.Number(d.spacing(0)), SpacingCriterionAcross: answer.Number(d.spacing(math.Pi / 2)),
		MaintenanceCategory: d.category, Computed: d.Computed, Warnings: append([]string{}, d.notes...),
		CoefficientsUtilization: jsonCUTable{Floor: floorOfTable}, Origin: answer.OriginOf(d.Origin),
	}
	for _, z := range d.luminaire.Distribution.ZonalFlux() {
		out.ZonalLumens = append(out.ZonalLumens, answer.Number(z))
	}
	for _, e := range cavity.Table(cavity.FluxesOf(d.luminaire).Share, floorOfTable) {
		out.CoefficientsUtilization.Rows = append(out.CoefficientsUtilization.Rows,
			jsonCURow{answer.Number(e.RoomCavityRatio), answer.Number(e.Ceiling), answer.Number(e.Walls), answer.Number(e.CoefficientOfUtilization)})
	}
	return answer.Encode(w, out)
}

// WriteText writes it for a terminal.
func (d Described) WriteText(w io.Writer) {
	l, f := d.luminaire, d.File
	line := func(name, format string, args ...any) {
		fmt.Fprintln(w, terminal.Hung(fmt.Sprintf("  %-34s", name), fmt.Sprintf(format, args...)))
	}
	fmt.Fprintf(w, "%s\n\n", d.name)
	lamps := "initial lamp lumens"
	if l.Absolute {
		lamps = "own lumens, absolute photometry"
	}
	line(lamps, "%s lm", number.Thousands(l.LampLumens))
	line("luminaire lumens", "%s lm", number.Thousands(l.Distribution.Flux()))
	line("luminaire efficiency", "%.3f", l.Efficiency())
	line("upward, downward", "%.1f %%, %.1f %%", 100*d.upwardShare(), 100*(1-d.upwardShare()))
	line("spacing criterion along, across", "%s, %s", number.Decimals(2)(d.spacing(0)), number.Decimals(2)(d.spacing(math.Pi/2)))
	line("luminous opening", "%s, %s", f.Shape(), f.Size())
	line("photometric file", "%s, type %s", f.Edition, f.Type)
	if f.InputWatts > 0 {
		line("input watts", "%g W, ballast factor %g", f.InputWatts, f.BallastFactor)
	}
	line("maintenance category, suggested", "%s", d.category)
	d.writeZones(w)
	d.writeUtilization(w)
	terminal.List(w, "Notes", d.notes)
	terminal.Quiet(w, d.Origin.Line())
}

// WriteIES writes the LM-63 file: of a computed luminaire the estimate, of a file the same in plain form, in its own edition, every number as it
// was and the tilt inside. Keywords of our own say what made it, in place of those of an earlier time.
func (d Described) WriteIES(w io.Writer) error {
	f := *d.File
	ours := false // with the lines that continue it
	f.Keywords = slices.DeleteFunc(slices.Clone(f.Keywords), func(k lm63.Keyword) bool {
		ours = ours && k.Name == "MORE" || k.Name == "_PROGRAM" && strings.HasPrefix(k.Text, "lampswap ") ||
			k.Name == "_INPUTS" && strings.HasPrefix(k.Text, "sha256:")
		return ours
	})
	if f.Tilt.Kind == lm63.TiltFile {
		f.Tilt.Kind, f.Tilt.FileName = lm63.TiltInclude, ""
	}
	f.AddKeyword("_PROGRAM", d.Origin.Program())
	f.AddKeyword("_INPUTS", d.Origin.Inputs())
	return lm63.Write(w, &f)
}

func (d Described) writeZones(w io.Writer) {
	fmt.Fprint(w, "\nLumens by ten-degree zones from straight down\n")
	zones := d.luminaire.Distribution.ZonalFlux()
	for half, name := range []string{"0 to 90", "90 to 180"} {
		fmt.Fprintf(w, "  %-10s", name)
		for _, z := range zones[half*9 : half*9+9] {
			fmt.Fprintf(w, "%7s", number.Thousands(z))
		}
		fmt.Fprintln(w)
	}
}

// writeUtilization prints the coefficients in percent, a block of ceilings at a time so that it keeps within the width.
func (d Described) writeUtilization(w io.Writer) {
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
	terminal.List(w, "Procedure", []string{cavity.Source()})
}
