// Package study works a job out: the light before and after the swap by the lumen method and point by point, what time takes of it,
// whether it is enough, and the energy.
//
//	initial by the lumen method   E = N Φ CU BF / A
//	maintained                    initial × (product of all loss factors) / BF
//
// Source of the product: ANSI/IES LS-1, light loss factor. A Result is in SI units; it holds everything that a writer shows.
package study
