// Package options answers which lamps, how many and on which ballast would do in the fixtures of a job: every way that the catalogue knows,
// with its light, held against what the job asks, best first.
//
//	light of an option = light of its distribution × (ballast factor × lumens) / (lumens of the solve) × loss factors of its lamp
//
// Source: our derivation, from light being linear in lumens and ballast factor. One photometric solve is made for each distinct
// distribution: fixture, lamps side by side, their diameter, beam and lit length.
//
// What meets every criterion comes first, by energy and then light; then what misses, the nearest first; then what is shown to compare.
// The front is what no other beats: as much light for fewer watts, or more for as many.
//
// Assumptions: lamps and ballasts are those of catalog, and a lamp fits where its nominal length fills the fixture; a lamp of unknown
// diameter is a T8, an LED tube of unknown beam is all round. Each is noted with the option.
//
// Limits: a photometric file serves only as many lamps of the same length; other numbers need a cross-section. An option has the
// statistics of its grids, not their points. What it costs beyond energy and demand is not known here.
package options
