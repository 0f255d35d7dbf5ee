package realised

import (
	"fmt"
	"math"
	"slices"

	"lampswap/photometry/number"
)

// What a reading may be off from what the job says of the same luminaires, as a factor either way, before it is taken for a slip or for other
// luminaires than the job's. Our choice: lists of ballasts differ by a fifth, a decimal point out of place by ten.
const (
	unlikeWatts = 1.5
	unlikeHours = 4 // a logger's two weeks, not scaled up to a year, are a tenth of what burns by day
	unlikeCount = 2
)

// unlike names the readings of a group in a system that prove nothing until they are read again, or the job is mended.
func unlike(where string, u Use, copies int, readings []Reading) []string {
	var all []string
	doubt := func(read, promised, factor float64, what, perhaps string) {
		switch {
		case math.IsNaN(read) || promised <= 0 || read == promised:
		case read == 0 || read/promised > factor || promised/read > factor:
			text := fmt.Sprintf("%s: %s, where the job has %s; %s", where, fmt.Sprintf(what, number.Digits(read)), number.Digits(promised), perhaps)
			if !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
	}
	for _, r := range readings {
		doubt(r.Watts, u.Watts, unlikeWatts, "%s W each", "read it again, or mend the job's input watts")
		doubt(r.Hours, u.Hours, unlikeHours, "%s h a year", "hours are those of a year, scaled up from the logger's time")
		if r.Count >= 0 {
			doubt(float64(r.Count), float64(u.Number)/float64(copies), unlikeCount, "%s that give light", "count again, in one copy of the space, or mend the job")
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
