package job

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/internal/tomlfile"
)

// Bounds of what a job says of a lamp.
const (
	mostLampWatts    = 2000.0
	leastLife        = 100.0 // h
	mostLife         = 1e6
	leastKelvin      = 1000.0
	mostKelvin       = 25_000.0
	leastDiameter    = 0.005 // m, of a lamp
	mostDiameter     = 0.1
	leastLampLength  = 0.1 // m
	mostLampLength   = 5.0
	leastBeam        = 30.0 // degrees
	farFromTheList   = 1.5  // a lamp of the list gives no more than that many times its lumens, and no less than their part
	leastTubeCelsius = -60.0
	mostTubeCelsius  = 60.0
)

// lampKeys are those that describe a lamp by its figures.
var lampKeys = []string{"lamp_lumens", "lamp_diameter", "lamp_kind", "led_type", "lamp_watts", "lamp_length", "beam_angle", "rated_life_hours", "minimum_temperature", "mean_lumens", "cri", "cct"}

// lamp settles which lamp a system has: one of the list, with what the job says of it besides, or one that the job describes, and be it by
// nothing. Its lumens, and what they lose, come with lampAges.
func (r *reader) lamp(t *tomlfile.Table, section *fixture.Section) (lamp *catalog.Lamp, diameter float64) {
	diameter = r.diameter(t, section)
	lamp = r.listedLamp(t)
	kind, hasKind := t.Word("lamp_kind", "fluorescent", "led")
	kindType, hasType := t.Word("led_type", string(catalog.OnBallast), string(catalog.OnLine), string(catalog.OnDriver))
	listed := lamp != nil
	switch {
	case t.Has("lamp") && !listed:
		r.figures(t, &catalog.Lamp{LED: true, RatedLifeHours: leastLife}) // for their faults
		return nil, diameter
	case !listed:
		lamp = &catalog.Lamp{Typed: true, LED: kind == "led", LEDType: catalog.LEDType(kindType), RatedAtCelsius: math.NaN(), LeastAmbientCelsius: math.NaN()}
		if !hasKind && !t.Has("lamp_kind") {
			r.default_(t, "lamp_kind", `"fluorescent"`, `taken for a lamp that is none of the list; an LED tube is lamp_kind = "led"`)
		}
	case hasKind && (kind == "led") != lamp.LED:
		t.Fault("lamp_kind", strconv.Quote(kind)+" contradicts the lamp "+lamp.Name, "the lamp's own kind, or no lamp of the list")
	case hasType && lamp.LED && kindType != string(lamp.LEDType):
		t.Fault("led_type", strconv.Quote(kindType)+" contradicts the lamp "+lamp.Name, strconv.Quote(string(lamp.LEDType))+", or no lamp of the list")
	}
	switch feedKeys := slices.ContainsFunc([]string{"ballast", "ballast_factor"}, t.Has); {
	case hasType && !lamp.LED:
		t.Fault("led_type", "stands with a fluorescent lamp", `lamp_kind = "led" too, or no led_type`)
	case lamp.LED && !t.Has("led_type") && !listed && feedKeys:
		t.Missing("led_type", `"A" on the ballast that stays, "B" on the line without ballast, "C" on an external driver`)
	case lamp.LED && !t.Has("led_type") && !listed:
		lamp.LEDType = catalog.OnLine
		r.default_(t, "led_type", `"B"`, "on the line, driver inside, as no ballast is named")
	}
	r.figures(t, lamp)
	if diameter > 0 {
		lamp.Diameter = diameter
	}
	return lamp, lamp.Diameter
}

// diameter asks for a lamp's diameter, m, up to what the fixture takes; 0 if the job gives none.
func (r *reader) diameter(t *tomlfile.Table, section *fixture.Section) float64 {
	most := mostDiameter
	if section != nil {
		most = section.LargestDiameter
	}
	x, _ := r.size(t, "lamp_diameter", leastDiameter, most)
	return x
}

// listedLamp asks for a lamp of the catalogue.
func (r *reader) listedLamp(t *tomlfile.Table) *catalog.Lamp {
	name, ok := t.Text("lamp")
	if !ok {
		return nil
	}
	lamp, found := catalog.FindLamp(name)
	if found {
		return &lamp
	}
	var names, kin []string
	for _, l := range catalog.Lamps() {
		names = append(names, l.Name)
		if strings.EqualFold(l.Family, name) {
			kin = append(kin, l.Name)
		}
	}
	want := "a lamp of `lampswap lamps`, or lamp_lumens"
	if len(kin) > 0 {
		want = strings.Join(kin, " or ")
	} else if near := diag.Nearest(name, names); near != "" {
		want = near + ", perhaps; " + want
	}
	t.Fault("lamp", strconv.Quote(name)+" is not in the lamp list", want)
	return nil
}

// figures puts what the job says of a lamp into it: all that it knows, or what goes before the list.
func (r *reader) figures(t *tomlfile.Table, lamp *catalog.Lamp) {
	ask := func(key string, to *float64, rule tomlfile.Rule) {
		if x, ok := t.Number(key, rule); ok {
			*to = x
		}
	}
	ask("lamp_watts", &lamp.RatedWatts, tomlfile.Between(leastWatts, mostLampWatts))
	ask("rated_life_hours", &lamp.RatedLifeHours, tomlfile.Between(leastLife, mostLife))
	ask("cri", &lamp.ColorRendering, tomlfile.Between(0, 100))
	ask("cct", &lamp.ColorTemperature, tomlfile.Between(leastKelvin, mostKelvin))
	ask("beam_angle", &lamp.BeamDeg, tomlfile.Between(leastBeam, 360))
	if x, ok := r.size(t, "lamp_length", leastLampLength, mostLampLength); ok {
		lamp.NominalLength = x
	}
	if r.job.Imperial {
		least, most := photometry.FahrenheitFromCelsius(leastTubeCelsius), photometry.FahrenheitFromCelsius(mostTubeCelsius)
		if x, ok := t.Number("minimum_temperature", tomlfile.Between(least, most)); ok {
			lamp.LeastAmbientCelsius = photometry.CelsiusFromFahrenheit(x)
		}
	} else {
		ask("minimum_temperature", &lamp.LeastAmbientCelsius, tomlfile.Between(leastTubeCelsius, mostTubeCelsius))
	}
	if !lamp.LED && t.Has("beam_angle") {
		t.Fault("beam_angle", "stands with a fluorescent lamp, which shines all round", `lamp_kind = "led" too, or no beam_angle`)
	}
	if lamp.LED && lamp.RatedLifeHours == 0 {
		lamp.RatedLifeHours = catalog.UsualL70
		if !t.Has("rated_life_hours") {
			r.default_(t, "rated_life_hours", strconv.Itoa(catalog.UsualL70), "hours to 70 percent of the lumens, of most LED tubes of the lamp list, assumed")
		}
	}
}

// lampAges settles what a lamp's lumens come to with the years, once its initial lumens are known, and makes a lamp of its figures.
func (r *reader) lampAges(t *tomlfile.Table, s *System) {
	mean, hasMean := t.Number("mean_lumens", tomlfile.Between(leastLumens, mostLumens))
	lamp := s.Lamp
	if lamp == nil || s.LampLumens == 0 {
		return
	}
	if far := s.LampLumens / lamp.InitialLumens; !lamp.Typed && (far > farFromTheList || far < 1/farFromTheList) {
		t.Fault("lamp_lumens", fmt.Sprintf("%g lm contradict the lamp %s, which gives %g lm", s.LampLumens, lamp.Name, lamp.InitialLumens),
			"lumens of that lamp, or no lamp of the list")
	}
	switch {
	case !hasMean:
	case lamp.LED:
		t.Fault("mean_lumens", "stands with an LED tube", "rated_life_hours, the hours to 70 percent of the lumens (L70)")
	case mean > s.LampLumens:
		t.Fault("mean_lumens", fmt.Sprintf("%g is more than the initial lumens", mean), fmt.Sprintf("at most %g", s.LampLumens))
	default:
		lamp.LampLumenDepreciation = mean / s.LampLumens
		lamp.DepreciationLow, lamp.DepreciationHigh = 0, 0
		lamp.DepreciationFrom = fmt.Sprintf("mean over initial lumens, %g / %g, given by the job", mean, s.LampLumens)
	}
	if given := s.Losses; lamp.Typed && !lamp.LED && !t.Has("mean_lumens") && given.LampLumenDepreciation == nil && given.Total == nil {
		r.default_(t, "mean_lumens", strconv.FormatFloat(catalog.UnknownDepreciation*s.LampLumens, 'g', 6, 64), "not known: 90 percent of the initial lumens, assumed")
	}
	if lamp.Typed {
		lamp.InitialLumens = s.LampLumens
		*lamp = catalog.Describe(*lamp)
	}
}

// sizes is how a length may be written with its own unit.
var sizes = regexp.MustCompile(`^\s*([0-9]*\.?[0-9]+)\s*(in|inch|inches|"|mm|cm|m|ft)\s*$`)

// sizeUnits are the units in which a size may be written, m.
var sizeUnits = map[string]float64{"in": photometry.Inch, "inch": photometry.Inch, "inches": photometry.Inch, `"`: photometry.Inch,
	"mm": 0.001, "cm": 0.01, "m": 1, "ft": photometry.Foot}

// size asks for a length of a lamp, m: a text with its unit, "1.1 in" or "28 mm", or a number in the job's unit.
func (r *reader) size(t *tomlfile.Table, key string, least, most float64) (float64, bool) {
	const slack = 1e-9 // of rounding between units
	unit := map[bool]string{true: "ft", false: "m"}[r.job.Imperial]
	want := fmt.Sprintf("%.4g to %.4g in or %.4g to %.4g mm, as \"1.1 in\" or \"28 mm\"; a bare number is in %s, %.4g to %.4g", least/photometry.Inch, most/photometry.Inch,
		1000*least, 1000*most, unit, least/r.unit(), most/r.unit())
	if !t.IsText(key) {
		x, ok := t.Number(key, tomlfile.Rule{Want: want, Holds: func(x float64) bool { return x*r.unit() >= least*(1-slack) && x*r.unit() <= most*(1+slack) }})
		return x * r.unit(), ok
	}
	text, ok := t.Text(key)
	if !ok {
		return 0, false
	}
	parts := sizes.FindStringSubmatch(text)
	if parts == nil {
		t.Fault(key, strconv.Quote(text)+" is no length with its unit", want)
		return 0, false
	}
	x, err := strconv.ParseFloat(parts[1], 64)
	x *= sizeUnits[parts[2]]
	if err != nil || !(x >= least*(1-slack) && x <= most*(1+slack)) {
		t.Fault(key, strconv.Quote(text)+" is out of range", want)
		return 0, false
	}
	return x, true
}
