// Package realised holds the saving of a swap, worked out of power and hours that were read on site, against what was promised.
//
//	saving  = sum over groups of (watts x number x hours, existing less proposed) x (1 + heating and cooling factor)
//	n       = (z cv / e)^2, of a finite number N of luminaires n N / (n + N): how many are to be logged
//
// z is the quantile of the confidence, cv the coefficient of variation that is expected, e the relative precision; 1.645, 0.5 and 0.10 give 68.
//
// Source: Uniform Methods Project, chapter 2, commercial and industrial lighting evaluation (NREL/SR-7A40-68558); its equations from memory,
// unverified. Spot watts are of one luminaire, hours are those of a year, scaled up from what a logger saw by whoever read it.
package realised
