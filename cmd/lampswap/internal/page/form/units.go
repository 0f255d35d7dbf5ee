package form

import (
	"math"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry"
)

const unitsPath = "units"

// ShownUnits is the field in which a form says in which units its numbers were shown: what is typed while the job is put into others is of these.
const ShownUnits = "shown-units"

// unitsOf are the units of a job.
func unitsOf(t *tomltext.Text) string {
	if Shown(t, unitsPath) == "metric" {
		return "metric"
	}
	return "imperial"
}

// switchUnits puts all numbers of a job into other units, and says so in it. A length of 18.5 ft is 5.6388 m then: the job stays the same, to a
// thousandth of a millimeter. What is text, as a diameter of 26 mm, stays.
func switchUnits(t *tomltext.Text, units string) error {
	metric := units == "metric"
	if was := Shown(t, unitsPath) == "metric"; (metric || units == "imperial") && was != metric {
		fields := map[string]Field{}
		for _, f := range FieldsOf(former{t: t, most: math.MaxInt, every: true}.parts()) {
			fields[f.Path] = f
		}
		err := t.Rewrite(func(path, raw string) string {
			x, err := strconv.ParseFloat(strings.ReplaceAll(raw, "_", ""), 64)
			change := changes[unitAt(fields, path)]
			if err != nil || change == nil {
				return raw
			}
			return rounded(change(x, metric))
		})
		if err != nil {
			return err
		}
	}
	return t.Set(unitsPath, tomltext.Quote(units))
}

// unitAt is the unit of the value at a path: that of its field, or of the column in which it stands.
func unitAt(fields map[string]Field, path string) string {
	if f, ok := fields[path]; ok {
		return f.unit
	}
	for rest := path; strings.HasSuffix(rest, "]"); {
		rest = rest[:strings.LastIndexByte(rest, '[')]
		f, ok := fields[rest]
		switch {
		case !ok:
		case f.kind != rows:
			return f.unit
		default:
			column, err := strconv.Atoi(strings.TrimSuffix(path[strings.LastIndexByte(path, '[')+1:], "]"))
			if err != nil {
				return ""
			}
			return f.columns[min(column, len(f.columns)-1)]
		}
	}
	return ""
}

// changes are from the units of one kind of job into the other's, by what is measured.
var changes = map[string]func(x float64, toMetric bool) float64{
	"length": times(photometry.Foot), "light": times(photometry.Footcandle), "power": times(1 / (photometry.Foot * photometry.Foot)), "degrees": times(1 / 1.8),
	"temperature": func(x float64, toMetric bool) float64 {
		if toMetric {
			return photometry.CelsiusFromFahrenheit(x)
		}
		return photometry.FahrenheitFromCelsius(x)
	},
}

func times(factor float64) func(float64, bool) float64 {
	return func(x float64, toMetric bool) float64 {
		if toMetric {
			return x * factor
		}
		return x / factor
	}
}
