// Package metrology answers what a reading of light is worth and what it proves: its uncertainty, whether a limit is met, how it compares
// with a prediction, and what it makes of the prediction after a change.
//
// A reading carries a budget of uncertainty as in the GUM, and a limit is tested with a guard band as in JCGM 106:
//
//	u² = Σ (limit / divisor)²        met if y ≥ T + w, missed if y < T - w, w = Φ⁻¹(confidence) u
//
// Readings and prediction are compared station by station, and readings taken before a change correct what is predicted after it:
//
//	En  = (m - p) / (2 √(um² + up²))        they disagree beyond 1 (see Compare)
//	E2' = E2 · measured / predicted         (see Calibrate)
//
// Sources: JCGM 100 (GUM) and JCGM 106 are used from memory, their formulas being textbook statistics; the classes of meters are those of
// DIN 5032-7, each with its source in the table; that a prediction is corrected by a ratio, and what is left of its doubt, is our
// derivation from GUM 5.2.2.
//
// Assumptions: readings are normally distributed about the truth, and limits of error are rectangular and independent.
//
// Limits: where to read, and what an average of readings is, is package survey. A budget here is of the meter and of what is stated beside
// it: daylight, a shadow, a cold lamp are no contribution but a reason not to read. Illuminance is in lx, uncertainties are shares.
package metrology
