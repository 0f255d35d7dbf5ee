package metrology

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Pair is what was predicted and what was measured at one station, lx, with standard uncertainties, lx.
type Pair struct {
	Station             string
	Predicted, Measured float64
	PredictedStandard   float64 // of everything, common parts too; 0 if none is stated
	MeasuredStandard    float64
}

// A Deviation is one station's comparison.
type Deviation struct {
	Pair
	Difference      float64 // measured less predicted, lx
	Ratio           float64 // measured over predicted; NaN where nothing was predicted
	NormalizedError float64 // difference over its expanded uncertainty, k = 2; NaN if no uncertainty is stated
	Score           float64 // modified z-score of the ratio among the stations; NaN if there are too few
	Disagrees       bool    // |NormalizedError| > 1: measured and predicted are not the same within their uncertainties
	Outlier         bool    // |Score| > 3.5: unlike the other stations
}

// A Comparison sums up the stations.
type Comparison struct {
	Stations         []Deviation // in the order of the pairs
	Median           float64     // of the ratios
	Mean, Standard   float64     // of the ratios of all stations, and its standard uncertainty
	Kept             int         // stations that are no outliers
	KeptMean         float64     // the mean of their ratios
	KeptStandard     float64
	Agreeing, Judged int // stations with |NormalizedError| ≤ 1, of those with a stated uncertainty
}

const (
	// A score beyond this is an outlier: Iglewicz and Hoaglin, How to detect and handle outliers, 1993; from memory, unverified.
	mostScore = 3.5
	// FewestScored is of stations with a ratio: with fewer there is no median to be unlike.
	FewestScored = 3
	// Ratios are taken to scatter by this at least, relative, however well most of them agree: our choice. So nothing within 10.5
	// percent of the median is called an outlier. Of fewer than fewToScatter stations the median of the deviations says little, and
	// more is allowed for: 35 percent.
	leastSpread    = 0.03
	fewToScatter   = 5
	leastSpreadFew = 0.1
)

// Compare compares measured with predicted, station by station. common is the relative standard uncertainty that all ratios share
// (the meter's calibration, what the prediction has wrong everywhere), which no number of stations makes smaller.
//
//	En = (m - p) / (2 √(um² + up²))                  disagrees beyond 1 (ISO/IEC 17043; from memory)
//	z  = (r - median) / (MAD / Φ⁻¹(0.75)),  r = m/p  outlier beyond 3.5, with three stations or more
//	mean ratio: u² = max(scatter²/n, Σ own²/n²) + (mean · common)²
//
// MAD is the median of |r - median|. An outlier is unlike the other stations: a shadow, a lamp that is out, a slip of the pen. It is
// named and never dropped by itself: the mean is given with and without. That all stations disagree alike makes none an outlier; it
// shows in the mean. A station where nothing is predicted has no ratio. It panics if a value is negative or not finite.
func Compare(pairs []Pair, common float64) Comparison {
	c := Comparison{Stations: make([]Deviation, len(pairs)), Median: math.NaN()}
	var ratios []float64
	for i, p := range pairs {
		c.Stations[i] = deviation(p)
		d := &c.Stations[i]
		if !math.IsNaN(d.NormalizedError) {
			c.Judged++
			if !d.Disagrees {
				c.Agreeing++
			}
		}
		if math.IsNaN(d.Ratio) {
			continue
		}
		ratios = append(ratios, d.Ratio)
	}
	if len(ratios) > 0 {
		c.Median = median(ratios)
	}
	c.score(ratios)
	all := func(Deviation) bool { return true }
	_, c.Mean, c.Standard = c.ratio(all, common)
	c.Kept, c.KeptMean, c.KeptStandard = c.ratio(func(d Deviation) bool { return !d.Outlier }, common)
	return c
}

const errPair = "metrology: a comparison needs finite values of 0 or more"

func deviation(p Pair) Deviation {
	for _, x := range []float64{p.Predicted, p.Measured, p.PredictedStandard, p.MeasuredStandard} {
		if !(x >= 0) || math.IsInf(x, 0) {
			panic(errPair)
		}
	}
	d := Deviation{Pair: p, Difference: p.Measured - p.Predicted, Ratio: math.NaN(), NormalizedError: math.NaN(), Score: math.NaN()}
	if p.Predicted > 0 {
		d.Ratio = p.Measured / p.Predicted
	}
	if u := math.Hypot(p.MeasuredStandard, p.PredictedStandard); u > 0 {
		d.NormalizedError = d.Difference / (2 * u)
		d.Disagrees = math.Abs(d.NormalizedError) > 1
	}
	return d
}

// score gives each station its modified z-score.
func (c *Comparison) score(ratios []float64) {
	if len(ratios) < FewestScored {
		return
	}
	off := make([]float64, len(ratios))
	for i, r := range ratios {
		off[i] = math.Abs(r - c.Median)
	}
	least := leastSpread
	if len(ratios) < fewToScatter {
		least = leastSpreadFew
	}
	spread := max(median(off)/distuv.UnitNormal.Quantile(0.75), least*c.Median)
	for i := range c.Stations {
		d := &c.Stations[i]
		if spread > 0 && !math.IsNaN(d.Ratio) {
			d.Score = (d.Ratio - c.Median) / spread
			d.Outlier = math.Abs(d.Score) > mostScore
		}
	}
}

// ratio returns the mean ratio of some stations and its standard uncertainty: the larger of what their scatter and what their stated
// uncertainties say, with the common part. Without either it is NaN.
func (c *Comparison) ratio(of func(Deviation) bool, common float64) (n int, mean, standard float64) {
	sum, own := 0.0, 0.0
	var ratios []float64
	for _, d := range c.Stations {
		if math.IsNaN(d.Ratio) || !of(d) {
			continue
		}
		ratios = append(ratios, d.Ratio)
		sum += d.Ratio
		whole := math.Hypot(d.MeasuredStandard, d.PredictedStandard*d.Ratio) / d.Predicted
		own += max(0, whole*whole-d.Ratio*d.Ratio*common*common)
	}
	n = len(ratios)
	if n == 0 {
		return 0, math.NaN(), math.NaN()
	}
	mean = sum / float64(n)
	squares := 0.0
	for _, r := range ratios {
		squares += (r - mean) * (r - mean)
	}
	chance := own / float64(n*n)
	if n > 1 {
		chance = max(chance, squares/float64(n-1)/float64(n))
	}
	standard = math.Sqrt(chance + mean*mean*common*common)
	if standard == 0 && n == 1 { // one station, nothing stated
		standard = math.NaN()
	}
	return n, mean, standard
}

func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
