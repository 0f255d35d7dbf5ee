// Package levels holds published lighting levels for warehouses and the spaces around them, and tells whether a value meets one.
//
//	at least: value ≥ required        at most: value ≤ required
//
// Sources: the table is levels.csv, with source, legal standing, currency and confidence in every row; rules.csv says which
// level binds where. Confidence words: seen (in a public copy of the text), seen-secondhand (quoted by somebody),
// memory-moderate and memory-low (from memory, unverified; never to be shown as published). Everything that is not simply seen
// and current turns up in Level.Caveat.
//
// A value is tested in the unit in which the level was published: 10 fc is tested as 10 fc, not as 100 or 107.6 lux, since
// publishers round the conversion differently (1 fc is printed as 11, 10.8, 10 and 10.76 lux). A level published in both units
// is tested in the job's. No tolerance hides in the test but a relative 1e-9 against rounding.
//
// Uniformity "at least 0.40" is minimum over average (Uo of EN 12464-1), tested as average_to_minimum at most 1/0.40. Where a
// rule asks it of the task area only ("task at least 0.7") it is not tested, as a grid covers a room: the text is shown instead.
//
// Limits: the table is not complete, and it does not know which level a contract or an inspector holds to. A level is a number
// of a list: that a room meets it does not show that it is well lit. Power densities by energy code are in package codes.
package levels
