package metrology

import (
	"cmp"
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed meters.csv
var metersCSV string

// A MeterError is the limit of one kind of error of an illuminance meter, a share of the reading.
type MeterError struct {
	Name, Symbol string  // "cosine", "f2"; the symbol may be empty
	Limit        float64 // half-width; NaN where it is not known
	PerKelvin    bool    // the limit is for each kelvin off the temperature of calibration
	Source       string
}

// A Meter is an illuminance meter as its class, its certificate or its data sheet describe it. Illuminance meters of no description
// cannot prove anything: give a class at least.
type Meter struct {
	Class             string       // of DIN 5032-7: L, A, B, C; empty for a meter with figures of its own
	Total             float64      // limit of the error as a whole, a share of the reading; 0: none stated
	TotalSource       string       // where the total is from; empty is as given
	Digits            float64      // limit of the error besides, in steps of the last digit that was read
	Errors            []MeterError // its own limits, error by error; they go before Total
	Calibration       float64      // expanded uncertainty of its certificate, a share of the reading; 0: none
	CalibrationFactor float64      // coverage factor of the certificate; 0 is 2
	CalibrationSource string       // certificate number and date, for the ledger
	KelvinOff         float64      // temperature of use less that of calibration, K, for limits per kelvin
}

type meterClass struct {
	total  MeterError
	errors []MeterError
}

var classNames = []string{"L", "A", "B", "C"}

var meterClasses = sync.OnceValue(func() map[string]meterClass {
	all := map[string]meterClass{}
	for _, r := range table.Load("meters", metersCSV, "error", "symbol", "unit", "l", "a", "b", "c", "source") {
		perKelvin := r.Required("unit") == "percent per K"
		if !perKelvin && r.Text("unit") != "percent" {
			r.Fail("unit", "is not percent or percent per K")
		}
		for _, name := range classNames {
			e := MeterError{r.Required("error"), r.Text("symbol"), r.NumberOr(strings.ToLower(name), math.NaN()) / 100,
				perKelvin, r.Text("source")}
			class := all[name]
			if e.Name == "total" {
				class.total = e
			} else {
				class.errors = append(class.errors, e)
			}
			all[name] = class
		}
	}
	return all
})

// MeterClasses returns the classes of DIN 5032-7, best first.
func MeterClasses() []string { return slices.Clone(classNames) }

// ClassMeter returns a meter of a class of DIN 5032-7, in any letter case, with the limit of its error as a whole.
func ClassMeter(class string) (Meter, bool) {
	name := strings.ToUpper(strings.TrimSpace(class))
	c, ok := meterClasses()[name]
	return Meter{Class: name, Total: c.total.Limit}, ok
}

// UnknownMeter is a meter of which nothing is known: the total of the widest class is taken for it, our choice and a cautious one. It may
// be worse.
func UnknownMeter() Meter {
	widest := meterClasses()[classNames[len(classNames)-1]].total.Limit
	return Meter{Total: widest, TotalSource: "nothing is known of the meter: that of class " + classNames[len(classNames)-1] + " is taken, our choice; it may be worse"}
}

// ClassErrors returns the limits of a class error by error; a limit that is not known is NaN.
func ClassErrors(class string) []MeterError {
	return slices.Clone(meterClasses()[strings.ToUpper(strings.TrimSpace(class))].errors)
}

// Budget returns what the meter adds to the uncertainty of a reading. All of it is common to all readings of that meter, and no
// number of readings makes it smaller.
//
// Which figures count is a choice. A class promises that the error as a whole is within its total, and says less of each part: the
// total alone is taken, as the half-width of a rectangular distribution, and the parts are not added to it. With figures of its own
// (a data sheet, or ClassErrors) the parts are taken instead, each rectangular, and the certificate's uncertainty with them; a
// certificate beside a class is not added either, as the class includes calibration. That the total is not less than the root of the
// squares of the parts is tested for every class. It panics with a meter of which nothing is known.
func (m Meter) Budget() Budget {
	var b Budget
	switch {
	case len(m.Errors) > 0:
		b = m.parts()
	case m.Total > 0 && m.Class != "":
		return Budget{Limit("meter of class "+m.Class+", as a whole", m.Total, meterClasses()[m.Class].total.Source)}
	case m.Total > 0:
		b = Budget{Limit("meter, as a whole", m.Total, cmp.Or(m.TotalSource, "as given"))}
	}
	if m.Calibration > 0 {
		k := m.CalibrationFactor
		if k == 0 {
			k = 2
		}
		source := m.CalibrationSource
		if source == "" {
			source = "as given"
		}
		b = append(Budget{Certificate("calibration", m.Calibration, k, source)}, b...)
	}
	if len(b) == 0 {
		panic(errMeter)
	}
	return b
}

// DigitsOf returns what the last digits of a display add to the uncertainty of a reading, or of an average of readings, that has steps of so much on
// average; ok is false of a meter for which none are stated, and where the step is not known. All readings may be off alike.
func (m Meter) DigitsOf(step, value float64) (c Contribution, ok bool) {
	if !(m.Digits > 0) || !(step > 0) || !(value > 0) {
		return Contribution{}, false
	}
	return Limit(fmt.Sprintf("meter, %g of its last digit", m.Digits), m.Digits*step/value, "as given"), true
}

const errMeter = "metrology: a meter needs a class, a total, limits of its own or a calibration"

func (m Meter) parts() Budget {
	var b Budget
	for _, e := range m.Errors {
		limit, name := e.Limit, e.Name
		if e.Symbol != "" {
			name += " " + e.Symbol
		}
		if e.PerKelvin {
			limit *= math.Abs(m.KelvinOff)
			name += fmt.Sprintf(", %.3g K off", math.Abs(m.KelvinOff))
		}
		if !math.IsNaN(limit) && limit > 0 {
			b = append(b, Limit("meter, "+name, limit, e.Source))
		}
	}
	return b
}

// Unknown returns the names of the meter's errors whose limits are not known, and which its budget therefore leaves out.
func (m Meter) Unknown() []string {
	var names []string
	for _, e := range m.Errors {
		if math.IsNaN(e.Limit) {
			names = append(names, e.Name)
		}
	}
	return names
}
