// Package survey is the inspector's half: where to measure in a room, what was measured there, and in which conditions.
//
// The average of a regular room comes from a few stations. M rows of N luminaires cut the room into bays between four luminaires
// (readings R), half bays along the long sides (Q) and at the ends (T), and quarter bays in the corners (P):
//
//	single luminaires in rows    E = [R (N-1)(M-1) + Q (N-1) + T (M-1) + P] / (N M)
//	one luminaire                E = P
//	one row of singles           E = [Q (N-1) + P] / N
//	continuous rows              E = [R N (M-1) + Q N + T (M-1) + P] / [M (N+1)]
//	one continuous row           E = [Q N + P] / (N+1)
//	luminous ceiling             E = [R (L-8)(W-8) + 8 Q (L-8) + 8 T (W-8) + 64 P] / (L W)    in feet
//
// Elsewhere a grid is read: EN 12464-1, p = 0.2 · 5^log10(d) m; or, among racks, a sample along the center lines of the aisles, which stands
// for a grid beside its prediction. In a large hall bays drawn at random are read beside the formula's. What a reading is worth and what it proves is package
// metrology.
//
// # Source
//
// The station formulas: IES Lighting Handbook, 8th and 9th editions, how to make a lighting survey, from memory, unverified; that
// their weights add to 1 is a test. Their claimed accuracy, within 10 percent of a grid of 2 ft, is from memory too. The places of
// the stations within a bay are not known to us from print: they are our choice. Readings under a luminaire, midway between two
// along the row, midway between two rows and in the middle of the bay are the trapezoidal rule over a bay that repeats; in a half or
// quarter bay the direction towards the wall has one reading, in its middle. Of two bays one lies in the middle of the room and one
// beside the long side, as the mean over all bays asks. On rooms computed by inverse square and cosine, the averages keep within 10
// percent of a fine grid (a test). Each table names its own sources.
//
// # Assumptions and limits
//
// Stations belong to one regular array in an empty room. Illuminance is in lx and length in m; files of readings may be in footcandles and feet, and say so in their
// header. What a light level must be is not known here, nor how it is predicted.
package survey
