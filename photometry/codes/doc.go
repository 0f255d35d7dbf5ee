// Package codes holds the law around a lamp swap that bears on watts and on what can be bought: limits of lighting power density
// by energy code and edition, when an alteration has to meet them, and dated rules for lamps, ballasts and their sale.
//
//	lighting power density = input watts of all luminaires / gross lit floor area        density ≤ limit
//
// Sources: the tables are limits.csv, alterations.csv and notices.csv, a source and a confidence in every row. The limits come
// nearly all from the PNNL Building Energy Standards Data, a public data set that copies the tables of ASHRAE 90.1 and the IECC;
// it is a copy, not the standard. Notices come from the US Code and the Federal Register, and for the states from lighting news,
// which is second-hand.
//
// Confidence words: seen (in a public copy, or in the data set), seen-secondhand (quoted by somebody), memory-moderate and
// memory-low (from memory, unverified; never to be shown as published). Caveat and Words carry them to the reader.
//
// A limit is tested in W/ft2, the unit in which it is printed; the SI edition rounds it (0.8 W/ft2 is printed as 9 W/m2, not
// 8.61). No tolerance hides in the test but a relative 1e-9 against rounding.
//
// Limits: a code binds where a state or city has adopted that edition, with its changes, which is not known here. Room cavity
// ratio allowances and control credits are not counted. A notice reminds and does not replace the text that it names. Which
// light level binds at which workplace is in package levels (Rules).
package codes
