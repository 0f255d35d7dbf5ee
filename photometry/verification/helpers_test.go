package verification_test

import "lampswap/photometry/internal/bay"

const (
	rounding = bay.Rounding
	upkeep   = bay.Upkeep
)

// run works out the bay, and sprintf puts numbers into its texts.
var run, sprintf = bay.Run, bay.With
