// Package answer writes answers as JSON, in shapes that scripts rely on: a key may be added, and none is renamed.
package answer

import (
	"encoding/json"
	"io"
	"math"

	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
)

// Encode writes a view, a key a line.
func Encode(w io.Writer, view any) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(view)
}

// A Number is a float64 that JSON shows as null where it is NaN or infinite.
type Number float64

// MarshalJSON implements json.Marshaler.
func (n Number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	if n == 0 {
		return []byte("0"), nil // of either sign
	}
	return json.Marshal(float64(n))
}

// money is a sum that may not be known.
func money(x *float64) *Number {
	if x == nil {
		return nil
	}
	n := Number(*x)
	return &n
}

// A view turns SI into numbers in the job's units.
type view struct {
	units.Units
	racks bool // the job has some
}

func viewOf(j *job.Job) view { return view{units.Of(j), len(j.Racks) > 0} }

func (v view) light(lux float64) Number { return Number(lux / v.Lux) }

func (v view) statistic(which levels.Statistic, value float64) Number {
	return Number(v.Statistic(which, value))
}
