// Package uncertainty answers how far the light of a job's systems may be from the prediction, for the tolerances of the job, and what
// matters most.
//
//	light = predicted × Π (1 + share) × LDD^dirt × RSDD(height)^(1 + dirt) / RSDD × (reflectances, mounting height)
//
// with LDD and RSDD the dirt factors as computed, the latter over the room cavity ratio that the height leaves. It draws lumens, ballast
// factors, dirt, reflectances, mounting height and the rest, what several systems share once for all of them, so that an error that they
// share cancels in their comparison, and tells intervals and probabilities of the samples. They share the building, and each part that both
// have: lamp, ballast, photometric data, cross-section. What each input does alone is integrated over its own distribution. The scale of
// the light is linear; reflectances and height are parabolas through a few more solves:
//
//	Π (1 + a x + b x²) × (1 + c x y + d x z + e y z)        x, y, z how far the reflectances are off
//
// Source: Monte Carlo, coverage intervals and their ends are JCGM 101:2008, 7.2 to 7.7. The response of the light is our derivation; tests
// hold the parabolas against full solves.
//
// Assumptions: inputs are independent of each other; a tolerance is rectangular unless the job says that it is normal; where the job says
// nothing, the range of a list counts, else a stated assumption.
//
// Limits: the model itself is not in doubt here, nor are the room, the places of luminaires along and across it, and the racks. Among
// racks and on large grids the relative changes are found on coarser patches and grids, and the result says so.
package uncertainty
