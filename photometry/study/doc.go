// Package study works a job out: the light before and after the swap by the lumen method and point by point, what time takes of
// it, whether it is enough, and the energy.
//
//	initial by the lumen method   E = N Φ CU BF / A
//	initial point by point        E = direct + interreflected, both with the ballast factor BF
//	maintained                    initial × (product of all loss factors) / BF
//	saving a year                 (kW before - kW after) × (hours × energy price + months × share × demand price) + upkeep saved
//
// Sources: ANSI/IES LS-1, light loss factor, for the product; the equation of the lumen method and of each part of the light are
// in packages cavity, direct and interreflect, those of the loss factors in losses; simple payback is net cost over the saving
// of a year, common practice. How the parts are put together is our derivation.
//
// How far the light may be from that, for the tolerances of the job, is found by a Monte Carlo (JCGM 101:2008): RunUncertainty
// draws lumens, ballast factors, dirt, reflectances, mounting height and the rest, what both systems share once for both, and
// tells intervals, probabilities and what matters most. The scale of the light is linear; reflectances and height are parabolas
// through a few more solves.
//
// Assumptions: both systems burn the same hours and are kept up the same way; a loss factor takes the same share at every point.
// A Result is in SI units; it holds everything that a writer shows.
//
// Limits: the lumen method sees neither racks nor explicit positions, and the warnings say so. A simple payback does not
// discount; what the ways cost over the years, at present value, is Result.LifeCycle (package lifecycle).
package study
