package job

import (
	"math"
	"strconv"

	"lampswap/photometry"
	"lampswap/photometry/internal/tomlfile"
)

// An Input is one thing that the light depends on and that is not known exactly.
type Input int

// The inputs, in the order in which they are listed.
const (
	LampLumens Input = iota
	BallastFactor
	LampDepreciation
	LuminaireDirt
	RoomSurfaceDirt
	TemperatureEstimate // the share of light that is left at the ambient, where that is an estimate
	AmbientTemperature
	Voltage
	Photometry     // of a photometric file, or of a fixture computed from its cross-section, whatever lamps are in it
	LampsInFixture // how these lamps differ in that from others in the same cross-section
	CeilingReflectance
	WallReflectance
	FloorReflectance
	MountingHeight
)

// Inputs is the number of inputs above.
const Inputs = int(MountingHeight) + 1

// String is the input in words.
func (i Input) String() string { return inputs[i].name }

// Key is the input's key in the table [uncertainty], with a dot where it stands in a table below.
func (i Input) Key() string {
	if inputs[i].measure == inReflectance {
		return "reflectance." + inputs[i].key
	}
	return inputs[i].key
}

// A Tolerance is how far an input may be from the value that is computed with: a share of the light, a share of what dirt takes, a
// reflectance, m, or C. Normal tells that Size is the standard deviation of a normal distribution; else it is the half-width of limits
// between which every value is as likely as another (rectangular).
type Tolerance struct {
	Size   float64
	Normal bool
	Given  bool // by the job; else Size is assumed, for want of a better range
}

// An Uncertainty is what may differ from what the job says, and how a Monte Carlo over it is made.
type Uncertainty struct {
	Asked      bool // the job has the table; a command may ask for it instead
	Seed       uint64
	Samples    int
	Confidence float64 // that an interval holds the light
	Existing   [Inputs]Tolerance
	Proposed   [Inputs]Tolerance
	Replaced   [Inputs]Tolerance // of the replacement
}

// Samples that may be asked for, and what is taken where the job does not say.
const (
	fewestSamples   = 1000
	mostSamples     = 1_000_000
	usualSamples    = 10_000
	usualConfidence = 0.95
	usualSeed       = 1
)

// A measure is what a tolerance is stated in.
type measure int

const (
	inLight measure = iota // percent of the light
	inDirt                 // percent of what dirt takes
	inReflectance
	inLength
	inDegrees
)

var measureWords = []string{"percent of the light", "percent of what dirt takes (of the exponent of the dirt law)", "a reflectance",
	"of length", "degrees"}

// What is assumed where neither the job nor a list has a tolerance. Nothing of it is published: each is what we take for the knowledge of
// somebody who walks the building with the lamps' and ballasts' labels, and says so where it is used.
var inputs = [Inputs]struct {
	key, name string
	measure   measure
	usual     float64 // half-width in the unit of the measure
	ownSide   bool    // a system may have its own
	reason    string
}{
	LampLumens: {"lamp_lumens", "lamp lumens", inLight, 5, true, "half-width, percent, where the lamp list has no range; assumed. " +
		"The mean of many lamps is meant: what differs from lamp to lamp averages out"},
	BallastFactor: {"ballast_factor", "ballast factor", inLight, 5, true,
		"half-width, percent, where the ballast list has no range; assumed"},
	LampDepreciation: {"lamp_depreciation", "lamp depreciation", inLight, 3, true,
		"half-width, percent of the light, where the lamp list has no range; assumed"},
	LuminaireDirt: {"luminaire_dirt", "luminaire dirt", inDirt, 40, false, "half-width, percent of what dirt takes: about one atmosphere " +
		"cleaner or dirtier (-36 and +46 percent from medium, category I); assumed"},
	RoomSurfaceDirt: {"room_surface_dirt", "room surface dirt", inDirt, 40, false,
		"half-width, percent of what dirt takes, as for luminaire dirt; assumed"},
	TemperatureEstimate: {"temperature", "estimate for the temperature", inLight, 0, true,
		"percent of the light, where it is no estimate with a doubt of its own"},
	AmbientTemperature: {"ambient_temperature", "ambient temperature", inDegrees, 0, false, "half-width, degrees; assumed"},
	Voltage: {"voltage", "line voltage", inLight, 2, true, "half-width, percent of the light, on magnetic or unknown ballasts: 5 percent of " +
		"voltage at 1 percent of light per 2.5 (from memory, unverified); 0 on others, assumed"},
	Photometry: {"photometry", "photometry", inLight, 2, true, "standard deviation of a normal distribution, percent, of a photometric file: " +
		"an expanded uncertainty of 4 percent (k = 2), the sum of many small errors; assumed. A computed cross-section takes its own, by a study"},
	LampsInFixture: {"lamps_in_fixture", "lamps in the fixture", inLight, 0, true, "percent of the light, of a photometric file, which knows its " +
		"lamps. A computed cross-section takes its own, by a study: what other lamps in it do not share"},
	CeilingReflectance: {"ceiling", "ceiling reflectance", inReflectance, 0.10, false, "half-width, judged by eye; assumed"},
	WallReflectance:    {"walls", "wall reflectance", inReflectance, 0.10, false, "half-width, judged by eye; assumed"},
	FloorReflectance:   {"floor", "floor reflectance", inReflectance, 0.05, false, "half-width, judged by eye; assumed"},
	MountingHeight: {"mounting_height", "mounting height", inLength, 0, false,
		"half-width, taken from a plan or measured from the floor; assumed"},
}

// The ones whose round number depends on the units.
const (
	usualHeightFt = 0.5
	usualHeightM  = 0.15
	usualAmbientF = 5
	usualAmbientC = 3
)

// Of returns the tolerances of a side of the comparison by its name.
func (u *Uncertainty) Of(side string) *[Inputs]Tolerance {
	switch side {
	case "existing":
		return &u.Existing
	case "replacement":
		return &u.Replaced
	}
	return &u.Proposed
}

func (r *reader) uncertainty(t *tomlfile.Table) {
	u := &r.job.Uncertainty
	*u = Uncertainty{Asked: t.Exists(), Seed: usualSeed, Samples: usualSamples, Confidence: usualConfidence}
	defer t.Done()
	if seed, ok := t.Count("seed", 0, math.MaxInt); ok {
		u.Seed = uint64(seed)
	} else if t.Exists() && !t.Has("seed") {
		r.default_(t, "seed", strconv.Itoa(usualSeed), "the same samples every time")
	}
	if samples, ok := t.Count("samples", fewestSamples, mostSamples); ok {
		u.Samples = samples
	} else if t.Exists() && !t.Has("samples") {
		r.default_(t, "samples", strconv.Itoa(usualSamples), "the Monte Carlo's own standard error is told with the result")
	}
	if confidence, ok := t.Number("confidence", tomlfile.Between(0.5, 0.999)); ok {
		u.Confidence = confidence
	} else if t.Exists() && !t.Has("confidence") {
		r.default_(t, "confidence", strconv.FormatFloat(usualConfidence, 'g', -1, 64), "of the intervals")
	}
	common := r.tolerances(t)
	u.Existing, u.Proposed, u.Replaced = common, common, common
	for _, side := range SystemNames {
		r.ownTolerances(t.Table(side), u.Of(side))
	}
}

// tolerances reads those that hold for every system.
func (r *reader) tolerances(t *tomlfile.Table) [Inputs]Tolerance {
	surfaces := t.Table("reflectance")
	var all [Inputs]Tolerance
	for i, in := range inputs {
		from := t
		if in.measure == inReflectance {
			from = surfaces
		}
		x, given := r.tolerance(from, in.key, in.measure)
		if !given {
			usual := r.usualSize(Input(i))
			x = Tolerance{Size: usual * r.per(in.measure), Normal: Input(i) == Photometry}
			if t.Exists() && !from.Has(in.key) && !from.Has(in.key+deviationEnd) {
				key := in.key
				if x.Normal {
					key += deviationEnd
				}
				r.default_(from, key, strconv.FormatFloat(usual, 'g', -1, 64), in.reason)
			}
		}
		all[i] = x
	}
	surfaces.Done()
	return all
}

// ownTolerances reads those of one system, which go before the common ones.
func (r *reader) ownTolerances(t *tomlfile.Table, into *[Inputs]Tolerance) {
	for i, in := range inputs {
		if !in.ownSide {
			continue
		}
		if x, given := r.tolerance(t, in.key, in.measure); given {
			into[i] = x
		}
	}
	t.Done()
}

// deviationEnd is the end of a key whose value is a standard deviation.
const deviationEnd = "_standard"

// tolerance asks for a half-width (key) or a standard deviation (key_standard).
func (r *reader) tolerance(t *tomlfile.Table, key string, m measure) (Tolerance, bool) {
	rule := r.toleranceRule(m)
	width, okWidth := t.Number(key, rule)
	deviation, okDeviation := t.Number(key+deviationEnd, rule)
	switch {
	case t.Has(key) && t.Has(key+deviationEnd):
		t.Fault(key+deviationEnd, "stands beside "+key, "one of the two: the half-width of limits, or the standard deviation of a normal distribution")
	case okWidth:
		return Tolerance{Size: width * r.per(m), Given: true}, true
	case okDeviation:
		return Tolerance{Size: deviation * r.per(m), Normal: true, Given: true}, true
	}
	return Tolerance{}, false
}

func (r *reader) toleranceRule(m measure) tomlfile.Rule {
	most := []float64{inLight: 90, inDirt: 100, inReflectance: 0.5, inLength: mostHeight / r.unit(), inDegrees: 100}[m]
	rule := tomlfile.Between(0, most)
	rule.Want += ", " + measureWords[m]
	return rule
}

// per is one of the file's unit in SI.
func (r *reader) per(m measure) float64 {
	switch m {
	case inLight, inDirt:
		return 0.01
	case inLength:
		return r.unit()
	case inDegrees:
		if r.job.Imperial {
			return photometry.CelsiusFromFahrenheit(1) - photometry.CelsiusFromFahrenheit(0)
		}
	case inReflectance:
	}
	return 1
}

// usualSize is the assumed tolerance in the file's unit.
func (r *reader) usualSize(in Input) float64 {
	byUnits := func(imperial, metric float64) float64 {
		if r.job.Imperial {
			return imperial
		}
		return metric
	}
	if in == MountingHeight {
		return byUnits(usualHeightFt, usualHeightM)
	}
	if in == AmbientTemperature {
		return byUnits(usualAmbientF, usualAmbientC)
	}
	return inputs[in].usual
}
