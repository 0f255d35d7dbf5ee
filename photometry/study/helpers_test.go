package study_test

import "lampswap/photometry/internal/bay"

const (
	rounding = bay.Rounding
	single   = bay.Single
	upkeep   = bay.Upkeep
)

const bounces, still = "interreflection = true", "interreflection = false"

// run works out the bay, and sprintf puts numbers into its texts.
var run, sprintf = bay.Run, bay.With
