package catalog

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/internal/table"
	"lampswap/photometry/number"
)

//go:embed lamps.csv
var lampsCSV string

// A Lamp is one kind of linear lamp. Lengths are in m. A number that is not known is 0, a temperature that is not known NaN.
type Lamp struct {
	Name        string // ANSI designation, or our own word for an LED tube
	Family      string // what the rows of ballasts call it: "F32T8" for F32T8/700 and so on
	Description string
	LED         bool    // a tube of light-emitting diodes; else a fluorescent lamp
	LEDType     LEDType // of an LED tube; "" for a fluorescent lamp
	Typed       bool    // described by its figures, no lamp of the list

	RatedWatts    float64 // W, of the lamp alone on the reference ballast; of an LED tube all it draws
	NominalLength float64 // m, the space it takes with standard lampholders: "4 ft" is 1.2192
	Length        float64 // m, overall, as a data sheet gives it; for an LED tube of its body
	Diameter      float64 // m
	Base          string
	Circuit       string  // how it is started or fed
	BeamDeg       float64 // the full angle around the tube into which it sends its light; 0 is all round for a fluorescent lamp, not known for an LED tube

	InitialLumens         float64 // lm, after 100 h, on the reference ballast; the middle of the range where one is known
	InitialLumensLow      float64 // lm, what public figures and memory span; equal to InitialLumens where only one figure is known
	InitialLumensHigh     float64
	LampLumenDepreciation float64 // mean over initial lumens of one lamp, or the middle of the known range; 0 for LED tubes, see L70
	DepreciationLow       float64
	DepreciationHigh      float64
	DepreciationFrom      string  // what LampLumenDepreciation rests on
	LeastLumensPerWatt    float64 // lm/W, federal minimum of the Energy Policy Act of 1992; 0 where the class has none

	RatedLifeHours       float64 // h, half of the lamps failed, at 3 h a start; of an LED tube see L70
	RatedLifeHours12Hour float64 // h, at 12 h a start
	L70                  bool    // LED: the life is the time after which 70 percent of the lumens are left
	ColorRendering       float64 // index
	ColorTemperature     float64 // K
	RatedAtCelsius       float64 // ambient at which the lumens are rated
	LeastAmbientCelsius  float64 // not to be used below

	Source, Confidence, Notes string // confidence of the lumens

	aliases []string
	hosts   string // the family on whose ballasts this lamp runs: a reduced-wattage lamp, an LED tube of type A
}

// An LEDType is how an LED tube is fed; the letters are the trade's.
type LEDType string

// The types.
const (
	OnBallast LEDType = "A" // on the fluorescent ballast that stays
	OnLine    LEDType = "B" // line voltage at the sockets, driver inside, ballast taken out
	OnDriver  LEDType = "C" // on an external driver
)

// FromMemory tells that the lumens, or what they lose, rest on memory in part and must not be shown as published.
func (l Lamp) FromMemory() bool {
	return strings.Contains(l.Confidence, "memory") || strings.Contains(l.DepreciationFrom, "memory")
}

// Mean returns the lumens at 40 percent of rated life, lm; 0 if not known.
func (l Lamp) Mean() float64 { return l.InitialLumens * l.LampLumenDepreciation }

// InitialFrom says of which range the initial lumens are the middle, "the middle of ..."; "" where only one figure is known.
func (l Lamp) InitialFrom() string {
	if l.InitialLumensLow == l.InitialLumensHigh {
		return ""
	}
	return fmt.Sprintf("the middle of what is known of its class, %s to %s lm",
		number.Thousands(l.InitialLumensLow), number.Thousands(l.InitialLumensHigh))
}

// LegalMinimumLumens returns the least initial lumens, lm, that a lamp of this class made for the US since 1994 or 1995 may have;
// ok is false where that law has no number for the class. Source: 42 USC 6295(i)(1)(B), lumens per watt times rated watts.
func (l Lamp) LegalMinimumLumens() (lumens float64, ok bool) {
	return l.LeastLumensPerWatt * l.RatedWatts, l.LeastLumensPerWatt > 0
}

var lamps = sync.OnceValue(func() []Lamp {
	rows := table.Load("lamps", lampsCSV, "name", "aliases", "family", "ballasts_of", "description", "light_source", "rated_watts",
		"led_type", "nominal_length_in", "overall_length_mm", "diameter_in", "base", "circuit", "initial_lumens_low", "initial_lumens",
		"initial_lumens_high", "mean_lumens_low", "mean_lumens", "mean_lumens_high", "depreciation_low", "depreciation",
		"depreciation_high", "depreciation_source", "life_hours_3h_start", "life_hours_12h_start", "l70_hours", "color_rendering",
		"rated_at_celsius", "least_ambient_fahrenheit", "beam_deg", "legal_lumens_per_watt_1994", "source", "confidence", "notes")
	all := make([]Lamp, len(rows))
	for i, r := range rows {
		all[i] = lamp(r)
	}
	return all
})

func lamp(r table.Row) Lamp {
	l := Lamp{
		Name: r.Required("name"), Family: r.Required("family"), Description: r.Required("description"), LED: r.Required("light_source") == "led",
		LEDType:       LEDType(r.Text("led_type")),
		RatedWatts:    r.NumberOr("rated_watts", 0),
		NominalLength: r.Number("nominal_length_in") * photometry.Inch,
		Length:        r.NumberOr("overall_length_mm", 0) / 1000,
		Diameter:      r.NumberOr("diameter_in", 0) * photometry.Inch,
		Base:          r.Text("base"), Circuit: r.Text("circuit"), BeamDeg: r.NumberOr("beam_deg", 0),
		DepreciationLow:      r.NumberOr("depreciation_low", 0),
		DepreciationHigh:     r.NumberOr("depreciation_high", 0),
		LeastLumensPerWatt:   r.NumberOr("legal_lumens_per_watt_1994", 0),
		RatedLifeHours:       r.NumberOr("life_hours_3h_start", 0),
		RatedLifeHours12Hour: r.NumberOr("life_hours_12h_start", 0),
		ColorRendering:       r.NumberOr("color_rendering", 0),
		RatedAtCelsius:       r.NumberOr("rated_at_celsius", math.NaN()),
		LeastAmbientCelsius:  photometry.CelsiusFromFahrenheit(r.NumberOr("least_ambient_fahrenheit", math.NaN())),
		Source:               r.Text("source"), Confidence: r.Required("confidence"), Notes: r.Text("notes"),
		hosts: r.Text("ballasts_of"),
	}
	if l.LED {
		l.RatedLifeHours, l.L70 = r.Number("l70_hours"), true
	}
	if alias := r.Text("aliases"); alias != "" {
		l.aliases = strings.Split(alias, " ")
	}
	figure := r.Number("initial_lumens")
	l.InitialLumensLow, l.InitialLumensHigh = r.NumberOr("initial_lumens_low", figure), r.NumberOr("initial_lumens_high", figure)
	l.InitialLumens = (l.InitialLumensLow + l.InitialLumensHigh) / 2
	l.LampLumenDepreciation, l.DepreciationFrom = depreciation(r, l, figure)
	return l
}

// depreciation takes the first of: the row's own share, mean over initial lumens of one lamp, the middle of the range.
func depreciation(r table.Row, l Lamp, initial float64) (share float64, from string) {
	own, hasOwn := r.Optional("depreciation")
	mean := r.NumberOr("mean_lumens", 0)
	switch {
	case hasOwn:
		return own, r.Required("depreciation_source")
	case mean > 0:
		return mean / initial, fmt.Sprintf("mean over initial lumens, %g / %g, at 40 percent of rated life", mean, initial)
	case l.DepreciationLow > 0 && l.DepreciationHigh > 0:
		return (l.DepreciationLow + l.DepreciationHigh) / 2,
			fmt.Sprintf("middle of %g to %g, a range from memory, unverified: a choice, not a published value", l.DepreciationLow, l.DepreciationHigh)
	case l.L70:
		return 0, l.l70Words()
	}
	return 0, "not known"
}

func (l Lamp) l70Words() string {
	return fmt.Sprintf("70 percent of the lumens left after %s h", number.Thousands(l.RatedLifeHours))
}

// Lamps returns all the lamps, in the order of the table.
func Lamps() []Lamp { return slices.Clone(lamps()) }

// LampNames returns the names of all the lamps, in the order of the table.
func LampNames() []string {
	names := make([]string, len(lamps()))
	for i, l := range lamps() {
		names[i] = l.Name
	}
	return names
}

// FindLamp returns the lamp of that name, or of a usual other spelling (F96T12HO for F96T12/HO, F40T12/ES for F34T12); letter case does
// not count. A bare "F32T8" is no lamp: its series (700, 800, HL) differ.
func FindLamp(name string) (Lamp, bool) {
	asked := plainName(name)
	for _, l := range lamps() {
		if plainName(l.Name) == asked || slices.ContainsFunc(l.aliases, func(alias string) bool { return plainName(alias) == asked }) {
			return l, true
		}
	}
	return Lamp{}, false
}

func plainName(name string) string {
	return strings.NewReplacer("/", "", " ", "", "-", "").Replace(strings.ToLower(name))
}
