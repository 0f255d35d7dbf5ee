package display

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/form"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

// A conditionView is something to write down on site: a number within bounds.
type conditionView struct {
	Key, Label, Unit, Value, Fault string
	least, most                    float64
}

// conditionFields are the conditions that the page asks for.
var conditionFields = []conditionView{
	{Key: "hours-burnt", Label: "Lamps have burnt since new", Unit: "h", most: 1e6},
	{Key: "months-since-cleaning", Label: "Since the last cleaning", Unit: "months", most: 1200}, // after thousands of years dirt would leave no light
	{Key: "warm-up-minutes", Label: "On before the first reading", Unit: "minutes", most: 1e6},
	{Key: "ambient-temperature", Label: "Ambient temperature", Unit: "temperature", least: -100, most: 200},
	{Key: "failed-percent", Label: "Lamps out", Unit: "% of them", most: 99.9},
	{Key: "supply-volts", Label: "Voltage at the luminaires", Unit: "V", least: 0.1, most: 1000},
	{Key: "rated-volts", Label: "Voltage they are rated for", Unit: "V", least: 0.1, most: 1000},
	{Key: "minutes-after-sunset", Label: "First reading after sunset", Unit: "minutes", most: 1e6},
}

// meterFields are the figures of the meter, besides its class or in place of it.
var meterFields = []conditionView{
	{Key: "meter-error", Label: "Error as a whole, by its data sheet", Unit: "% of reading", most: 100},
	{Key: "meter-digits", Label: "And digits besides", Unit: "digits", most: 100},
	{Key: "calibration", Label: "Uncertainty on its certificate, k = 2", Unit: "%", most: 100},
	{Key: "calibration-factor", Label: "Factor of its certificate", Unit: "times", least: 0.5, most: 2},
	{Key: "months-since-calibration", Label: "Calibrated", Unit: "months ago", most: 1e6},
	{Key: "confidence", Label: "Confidence of a decision", Unit: "%", least: 50, most: 99.9},
}

// viewsOf are fields with what was typed in them.
func viewsOf(fields []conditionView, typed Readings, imperial bool) []conditionView {
	var all []conditionView
	for _, c := range fields {
		x, ok := c.of(typed)
		c.Unit, c.Value = form.Unit(c.Unit, imperial), typed[c.Key]
		switch {
		case ok:
		case math.IsNaN(x):
			c.Fault = "is " + strconv.Quote(c.Value) + ", want a number, or nothing where it was not written down"
		default:
			c.Fault = fmt.Sprintf("is %s, want %g to %g", c.Value, c.least, c.most)
		}
		all = append(all, c)
	}
	return all
}

// of is the number as typed; NaN where nothing is. ok is false of what is no number, which is NaN, or is out of bounds.
func (c conditionView) of(typed Readings) (x float64, ok bool) {
	text := strings.TrimSpace(typed[c.Key])
	if text == "" {
		return math.NaN(), true
	}
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsInf(x, 0) {
		return math.NaN(), false
	}
	return x, x >= c.least && x <= c.most
}

// The meters that are of no class.
const (
	unknownMeter = "unknown"
	ownMeter     = "own" // by the figures of its data sheet or its certificate
)

// meterChoices are the classes of DIN 5032-7, and meters of none.
func meterChoices(chosen string) []form.OptionView {
	all := []form.OptionView{{Value: "", Label: "not said", Selected: chosen == ""}}
	for _, class := range metrology.MeterClasses() {
		all = append(all, form.OptionView{Value: class, Label: "class " + class, Selected: class == chosen})
	}
	return append(all, form.OptionView{Value: ownMeter, Label: "by the figures below", Selected: chosen == ownMeter},
		form.OptionView{Value: unknownMeter, Label: "not known: the widest class", Selected: chosen == unknownMeter})
}

// numbers are all that was typed of how readings were taken; why says what is wrong with it.
func (r Readings) numbers() (all map[string]float64, why string) {
	all = map[string]float64{}
	for _, c := range slices.Concat(conditionFields, meterFields) {
		x, ok := c.of(r)
		if !ok {
			return nil, "Mend what is marked first: " + c.Label + "."
		}
		all[c.Key] = x
	}
	return all, ""
}

// meter describes the meter; why says what is missing.
func (r Readings) meter(x map[string]float64) (m metrology.Meter, why string) {
	or0 := func(key string, unit float64) float64 {
		if math.IsNaN(x[key]) {
			return 0
		}
		return x[key] / unit
	}
	total, calibration := or0("meter-error", 100), or0("calibration", 100)
	switch chosen := r["meter"]; {
	case chosen == unknownMeter:
		m = metrology.UnknownMeter()
	case chosen == ownMeter && total+calibration > 0:
		m.Total = total
	case chosen == ownMeter:
		return m, "Give the meter's error as a whole, or the uncertainty on its certificate; without either, readings prove nothing."
	default:
		class, ok := metrology.ClassMeter(chosen)
		if !ok {
			return m, "Say which class the meter is of, or give its figures, or say that it is not known; without that, readings prove nothing."
		}
		m = class
	}
	if total > 0 && r["meter"] != ownMeter {
		return m, "An error as a whole stands beside the meter's class. Give one of the two."
	}
	m.Digits, m.Calibration = or0("meter-digits", 1), calibration
	return m, ""
}

// Survey is what the readings are held against the prediction with; why says what keeps them from proving anything.
func (r Readings) Survey(j *job.Job, m stations.Measurement) (taken verification.Survey, why string) {
	x, why := r.numbers()
	if why != "" {
		return verification.Survey{}, why
	}
	meter, why := r.meter(x)
	if why != "" {
		return verification.Survey{}, why
	}
	taken = verification.Survey{System: m.System, Readings: r.Taken(j, m), Meter: meter, Conditions: survey.NotNoted(), Confidence: 0.95}
	taken.Readings.Lines = slices.DeleteFunc(taken.Readings.Lines, func(l survey.Reading) bool { return !l.Taken() })
	if factor := x["calibration-factor"]; !math.IsNaN(factor) {
		taken.Factor = factor
	}
	if percent := x["confidence"]; !math.IsNaN(percent) {
		taken.Confidence = percent / 100
	}
	c := &taken.Conditions
	for key, to := range map[string]*float64{"hours-burnt": &c.HoursBurnt, "months-since-cleaning": &c.MonthsSinceCleaning, "warm-up-minutes": &c.WarmUpMinutes, "ambient-temperature": &c.AmbientCelsius,
		"supply-volts": &c.SupplyVolts, "rated-volts": &c.RatedVolts, "minutes-after-sunset": &c.MinutesAfterSunset, "months-since-calibration": &c.MonthsSinceCalibration} {
		*to = x[key]
	}
	c.FailedShare = x["failed-percent"] / 100
	if j.Imperial {
		c.AmbientCelsius = photometry.CelsiusFromFahrenheit(c.AmbientCelsius)
	}
	c.Daylight, c.AgainstInitial = stations.Daylights[r["daylight"]], r["initial"] == "yes"
	for _, p := range m.Plans {
		taken.Areas = append(taken.Areas, verification.Area{Grid: p.Grid, Plan: p.Plan})
	}
	return taken, ""
}

// IsReading tells whether a field of the page is one that is kept: a reading, its place, or how readings were taken.
func IsReading(field string) bool {
	isField := func(c conditionView) bool { return c.Key == field }
	return slices.Contains([]string{"system", "meter", "meter-shows", "places", "daylight", "initial"}, field) || strings.HasPrefix(field, "r:") ||
		slices.ContainsFunc(conditionFields, isField) || slices.ContainsFunc(meterFields, isField)
}

// Keep takes a reading, or how readings were taken, as it was posted. A reading is of the place at which its station was when it was typed; posted again
// as it was, it keeps its place, unless its visitor says that it was read at the new one.
func (r Readings) Keep(field, typed, at string, here bool) {
	name, is := strings.CutPrefix(field, "r:")
	switch {
	case typed == "":
		delete(r, field)
		delete(r, "at:"+name)
		return
	case is && at != "" && (r[field] != typed || here || r["at:"+name] == ""):
		r["at:"+name] = at
	}
	r[field] = typed
}
