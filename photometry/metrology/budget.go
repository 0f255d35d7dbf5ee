package metrology

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Shape is the distribution that a stated figure is read as.
type Shape int

// The distributions of a budget.
const (
	Rectangular Shape = iota // anywhere within the limits, with equal probability
	Normal
)

// String is the name of the distribution.
func (s Shape) String() string {
	if s == Normal {
		return "normal"
	}
	return "rectangular"
}

// A Contribution is one line of a budget of uncertainty. Values are shares of the reading: 0.03 is 3 percent.
type Contribution struct {
	Name     string
	Value    float64 // as stated: half-width of the limits, or Divisor standard uncertainties
	Shape    Shape
	Divisor  float64 // √3 for limits, the coverage factor for a certificate, 1 for a standard uncertainty
	Freedom  float64 // degrees of freedom; +Inf where the figure itself is not in doubt
	Source   string
	Variable bool // differs from station to station by chance; else it is common to all of them and does not average out
}

// Standard returns the standard uncertainty, Value / Divisor.
func (c Contribution) Standard() float64 { return c.Value / c.Divisor }

// Limit is an error within limits and nothing else known: rectangular, a/√3. Source: GUM (JCGM 100:2008) 4.3.7.
func Limit(name string, halfWidth float64, source string) Contribution {
	return Contribution{Name: name, Value: halfWidth, Shape: Rectangular, Divisor: math.Sqrt(3), Freedom: math.Inf(1), Source: source}
}

// Certificate is an expanded uncertainty with its coverage factor, U/k. Source: GUM 4.3.3.
func Certificate(name string, expanded, k float64, source string) Contribution {
	return Contribution{Name: name, Value: expanded, Shape: Normal, Divisor: k, Freedom: math.Inf(1), Source: source}
}

// StandardUncertainty is one known as such, with +Inf or the degrees of freedom from which it was found.
func StandardUncertainty(name string, u, freedom float64, source string) Contribution {
	return Contribution{Name: name, Value: u, Shape: Normal, Divisor: 1, Freedom: freedom, Source: source}
}

// A Budget is all that makes a value uncertain, as independent contributions.
type Budget []Contribution

// Standard returns the combined standard uncertainty, a share of the value: the root of the sum of squares. Source: GUM 5.1.2, with all
// sensitivities 1 as every line is a share of the same product.
func (b Budget) Standard() float64 {
	sum := 0.0
	for _, c := range b {
		sum += c.Standard() * c.Standard()
	}
	return math.Sqrt(sum)
}

// Split returns what is common to all stations and what differs from station to station by chance.
func (b Budget) Split() (common, variable Budget) {
	for _, c := range b {
		if c.Variable {
			variable = append(variable, c)
		} else {
			common = append(common, c)
		}
	}
	return common, variable
}

// Freedom returns the effective degrees of freedom, u⁴ / Σ (uᵢ⁴/νᵢ). Source: GUM G.4.1, Welch and Satterthwaite.
func (b Budget) Freedom() float64 {
	sum := 0.0
	for _, c := range b {
		sum += math.Pow(c.Standard(), 4) / c.Freedom
	}
	return math.Pow(b.Standard(), 4) / sum
}

// CoverageFactor returns k for an interval about the value that holds the truth with the given probability, as 0.95: from the
// t-distribution with the effective degrees of freedom. Source: GUM G.3. It panics unless the probability lies between 0 and 1.
func (b Budget) CoverageFactor(probability float64) float64 {
	if !(probability > 0 && probability < 1) {
		panic(errProbability)
	}
	return chance(b.Freedom()).Quantile((1 + probability) / 2)
}

// chance is the distribution of a value about the truth, in standard uncertainties, by the degrees of freedom of that uncertainty:
// Student's t, or the normal distribution. Source: GUM G.3; degrees of freedom are truncated as in G.4.1.
func chance(freedom float64) interface {
	Quantile(p float64) float64
	CDF(x float64) float64
} {
	if !(freedom < mostFreedom) { // NaN of an empty budget, or so many that the normal distribution is the same
		return distuv.UnitNormal
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: math.Max(1, math.Floor(freedom))}
}

// Enough returns how many readings it takes until their scatter, relative, leaves an average uncertain by no more than so much, relative and
// expanded to 95 percent: the least n for which t s/√n is within it, t of n - 1 degrees of freedom, and most if that is not enough. Source:
// GUM 4.2.3 and G.3, from memory.
func Enough(scatter, expanded float64, most int) int {
	n := 2
	for n < most && chance(float64(n-1)).Quantile(0.975)*scatter/math.Sqrt(float64(n)) > expanded {
		n++
	}
	return n
}

const (
	mostFreedom    = 1e6
	errProbability = "metrology: a probability lies between 0 and 1"
)

// Expanded returns the expanded uncertainty, a share of the value: coverage factor times standard uncertainty.
func (b Budget) Expanded(probability float64) float64 {
	return b.CoverageFactor(probability) * b.Standard()
}

// Largest names the largest contribution; "" where there is none.
func (b Budget) Largest() string {
	name, most := "", math.Inf(-1)
	for _, c := range b {
		if c.Standard() > most {
			name, most = c.Name, c.Standard()
		}
	}
	return name
}
