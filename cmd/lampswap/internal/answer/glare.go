package answer

import (
	"math"

	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

// jsonObserver is what an observer sees; background and rating are null where there is none, and the reason stands beside.
type jsonObserver struct {
	Name       string `json:"name"`
	X          Number `json:"x"`
	Y          Number `json:"y"`
	Height     Number `json:"height"`
	Looking    Number `json:"looking"`              // degrees
	Background Number `json:"background_luminance"` // cd/m2, of initial light
	Sources    int    `json:"sources"`
	Small      int    `json:"sources_below_range,omitempty"` // of them those below 0.0003 sr,
	Large      int    `json:"sources_above_range,omitempty"` // and those above 0.1 sr
	UGR        Number `json:"ugr"`
	Because    string `json:"ugr_because,omitempty"`
}

func (v view) jsonObservers(s lighting.System) []jsonObserver {
	out := make([]jsonObserver, len(s.Observers))
	for i, o := range s.Observers {
		ugr, why := o.Rating()
		out[i] = jsonObserver{o.Name, Number(o.Eye.X / v.Meter), Number(o.Eye.Y / v.Meter), Number(o.Eye.Z / v.Meter), Number(o.Looking * 180 / math.Pi),
			Number(o.Background), o.Sources, o.Small, o.Large, Number(ugr), string(why)}
	}
	return out
}

// jsonLuminance is how bright luminaires of one kind are to look at, cd/m2, new and at the job's ballast factor: at angles from straight down, along
// and across the lamps.
type jsonLuminance struct {
	Group    string   `json:"group"`
	BareLamp Number   `json:"bare_lamp"` // as if it shone alike all round
	Angles   []Number `json:"angles"`
	Along    []Number `json:"along"`
	Across   []Number `json:"across"`
}

func jsonLuminances(from *job.System) []jsonLuminance {
	var out []jsonLuminance
	for _, kind := range from.Kinds() {
		l := jsonLuminance{Group: kind.Group, BareLamp: Number(study.BareLamp(kind))}
		emitted := kind.Emitted()
		for _, degrees := range []float64{45, 55, 65, 75, 85} {
			angle := degrees * math.Pi / 180
			l.Angles = append(l.Angles, Number(degrees))
			l.Along = append(l.Along, Number(glare.Luminance(emitted, 0, angle)))
			l.Across = append(l.Across, Number(glare.Luminance(emitted, math.Pi/2, angle)))
		}
		out = append(out, l)
	}
	return out
}
