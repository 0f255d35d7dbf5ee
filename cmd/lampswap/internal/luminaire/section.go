package luminaire

import (
	"fmt"
	"math"

	"lampswap/photometry"
	"lampswap/photometry/fixture"
	"lampswap/photometry/lm63"
	"lampswap/photometry/number"
)

// candelaStep is the fineness to which computed candela are written, cd.
const candelaStep = 0.01

// SectionFile is the LM-63-2019 file of a luminaire that was computed from a cross-section, with keywords that say so. Ballast factor
// and watts are those of the lamps' ballast; watts of 0 mean not known.
func SectionFile(section *fixture.Section, tubes fixture.Tubes, lamp string, ballastFactor, inputWatts float64) (*lm63.File, fixture.Result, error) {
	luminaire, result, err := section.Solve(tubes)
	if err != nil {
		return nil, result, err
	}
	lamps := tubes.Across * max(1, tubes.EndToEnd)
	f := &lm63.File{
		Edition: lm63.Edition2019, Lamps: lamps, LumensPerLamp: tubes.Lumens, Multiplier: 1, Type: lm63.TypeC, Units: lm63.Feet,
		Length: number.Round(luminaire.Opening.Length/photometry.Foot, 1e-3), Width: number.Round(luminaire.Opening.Width/photometry.Foot, 1e-3),
		Height: number.Round(luminaire.Opening.Height/photometry.Foot, 1e-3), BallastFactor: ballastFactor, BallastLampFactor: lm63.Simulated,
		InputWatts: inputWatts,
	}
	f.AddKeyword("TEST", "none: a computed estimate, nothing was measured")
	f.AddKeyword("TESTLAB", "none")
	f.AddKeyword("ISSUEDATE", "none")
	f.AddKeyword("MANUFAC", "none: a generic fixture")
	f.AddKeyword("LUMCAT", section.Name)
	f.AddKeyword("LUMINAIRE", section.Description)
	f.AddKeyword("LAMP", fmt.Sprintf("%d x %s, %.0f lm each, %d side by side", lamps, lamp, tubes.Lumens, tubes.Across))
	f.AddKeyword("OTHER", fmt.Sprintf("Diffuse exchange of light in the cross-section; ends left out. Efficiency %.3f, %.1f percent of it upward. Dimensions and reflectances: %s",
		result.Efficiency, 100*result.UpwardShare, section.Source))
	tabulate(f, luminaire.Distribution)
	return f, result, nil
}

// tabulate copies the table, one quadrant of it where the rest is its mirror image.
func tabulate(f *lm63.File, d *photometry.Distribution) {
	const degree = math.Pi / 180
	for _, v := range d.VerticalAngles() {
		f.VerticalDeg = append(f.VerticalDeg, number.Round(v/degree, 1e-4))
	}
	for h, plane := range d.HorizontalAngles() {
		if d.QuadrantSymmetric() && plane > 90.01*degree {
			break
		}
		f.HorizontalDeg = append(f.HorizontalDeg, number.Round(plane/degree, 1e-4))
		row := make([]float64, len(f.VerticalDeg))
		for v := range row {
			row[v] = number.Round(d.Candela(h, v), candelaStep)
		}
		f.Candela = append(f.Candela, row)
	}
}
