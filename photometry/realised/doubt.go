package realised

import "math"

// What a reading may be off from what the job says of the same luminaires, as a factor either way, before it is taken for a slip or for other
// luminaires than the job's. Our choice: lists of ballasts differ by a fifth, a decimal point out of place by ten.
const (
	unlikeWatts = 1.5
	unlikeHours = 4 // a logger's two weeks, not scaled up to a year, are a tenth of what burns by day
	unlikeCount = 2
)

// A Quantity is one of those that are read of luminaires.
type Quantity int

// The quantities.
const (
	Watts Quantity = iota // of one luminaire
	Hours                 // a year
	Count                 // that give light, in one copy of the space
)

// An Unlike is a reading unlike what the job has of the same luminaires: it proves nothing until it is read again, or the job is mended.
type Unlike struct {
	Space, Group, System string
	Quantity             Quantity
	Read, Promised       float64
}

// unlike are the readings of a group in a system that prove nothing.
func unlike(u Use, copies int, readings []Reading) []Unlike {
	var all []Unlike
	for _, r := range readings {
		doubt := func(quantity Quantity, read, promised, factor float64) {
			switch {
			case math.IsNaN(read) || promised <= 0 || read == promised:
			case read == 0 || read/promised > factor || promised/read > factor:
				all = append(all, Unlike{r.Space, r.Group, r.System, quantity, read, promised})
			}
		}
		doubt(Watts, r.Watts, u.Watts, unlikeWatts)
		doubt(Hours, r.Hours, u.Hours, unlikeHours)
		if r.Count >= 0 {
			doubt(Count, float64(r.Count), float64(u.Number)/float64(copies), unlikeCount)
		}
	}
	return all
}

// A Because is what of a difference in the saving comes from what, kWh a year; the sum is realised less promised.
type Because struct{ Number, Watts, Hours float64 }

// because splits the change of a product into shares of its factors: each factor's step, the others as promised, as read, or one of each, averaged over
// the six orders in which they can change (the value of Shapley, 1953, from memory), so that nothing is left over.
func because(u Use) Because {
	n, w, h := float64(u.Number), u.Watts, u.Hours
	rn, rw, rh := float64(u.ReadNumber), u.ReadWatts, u.ReadHours
	share := func(step, a, b, ra, rb float64) float64 {
		return step * (2*a*b + 2*ra*rb + a*rb + ra*b) / 6 / 1000
	}
	return Because{share(rn-n, w, h, rw, rh), share(rw-w, n, h, rn, rh), share(rh-h, n, w, rn, rw)}
}

// add counts a group's system in, with its sign in the saving.
func (b *Because) add(more Because, sign float64) {
	b.Number += sign * more.Number
	b.Watts += sign * more.Watts
	b.Hours += sign * more.Hours
}

// variance is that of the energy of luminaires that were sampled, (kWh)^2: of the means of watts and hours, each by its own scatter, with the correction
// for a finite number. A single reading has no scatter, and adds none.
func variance(u Use, readings []Reading) float64 {
	kWh := u.ReadKWh
	var sum float64
	for _, x := range []struct {
		mean float64
		of   func(Reading) float64
	}{{u.ReadWatts, func(r Reading) float64 { return r.Watts }}, {u.ReadHours, func(r Reading) float64 { return r.Hours }}} {
		if v := ofMean(readings, u.ReadNumber, x.of); x.mean > 0 {
			sum += kWh * kWh * v / (x.mean * x.mean)
		}
	}
	return sum
}

// ofMean is the variance of the mean of what was read of some of a number of like things.
func ofMean(readings []Reading, number int, of func(Reading) float64) float64 {
	m, ok := mean(readings, of)
	sum, n := 0.0, 0
	for _, r := range readings {
		if x := of(r); !math.IsNaN(x) {
			sum, n = sum+(x-m)*(x-m), n+1
		}
	}
	if !ok || n < 2 {
		return 0
	}
	left := max(0, 1-float64(n)/float64(max(number, n)))
	return sum / float64(n-1) / float64(n) * left
}
