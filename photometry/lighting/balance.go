package lighting

import (
	"fmt"
	"math"

	"lampswap/photometry/interreflect"
	"lampswap/photometry/number"
)

// How far what the surfaces absorb may be from what the luminaires emit, as a part of it: beyond the first a
// reader is told, beyond the second nothing is concluded from the light.
const (
	imbalanceTold = 0.003
	imbalanceMost = 0.01
)

// An ImbalanceError says that light was lost or found, so that no verdict can rest on it. Flux in lm.
type ImbalanceError struct{ Emitted, Absorbed float64 }

// Error tells both numbers.
func (e *ImbalanceError) Error() string {
	return fmt.Sprintf("the light is not trusted: %s, and %g percent is the most that may be; nothing is "+
		"concluded from it. "+
		"Does a luminaire, as it is turned, not fit into the room? If all do, please report this with the job's "+
		"files",
		FluxWords(e.Emitted, e.Absorbed), 100*imbalanceMost)
}

// FluxWords set the flux that luminaires emit, lm, against that which surfaces absorb.
func FluxWords(emitted, absorbed float64) string {
	off, word := 100*(absorbed/emitted-1), "more"
	if off < 0 {
		word = "less"
	}
	words := number.Thousands
	if max(emitted, absorbed) < 100 {
		words = func(x float64) string { return fmt.Sprintf("%.3g", x) }
	}
	return fmt.Sprintf("the luminaires emit %s lm and the surfaces absorb %s lm, %.1f percent %s",
		words(emitted), words(absorbed), math.Abs(off), word)
}

// trusted errs with an *ImbalanceError if what is emitted is not absorbed. Without light that bounces there
// is no account.
func trusted(b *interreflect.Balance) error {
	if b == nil || math.Abs(b.Imbalance()) <= imbalanceMost {
		return nil
	}
	return &ImbalanceError{b.Emitted, b.Absorbed}
}

// Unbalanced tells that more light is lost or found than next to none, though less than would be an error.
func (s System) Unbalanced() bool {
	return s.Balance != nil && math.Abs(s.Balance.Imbalance()) > imbalanceTold
}
