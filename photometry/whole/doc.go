// Package whole works out a building: the light of each space by itself, then energy, money, power density and the take-off of all of them
// together. Spaces are worked out at the same time, rooms that are equal once, and the answer has the same bits on any number of processors.
//
//	allowed power, space by space = sum over spaces of (limit x floor area)
//	sockets of the take-off       = 2 x lamps that come in
//
// No light is computed here: study.RunWith does that for each space, and study.Priced takes all luminaires as one job for the money.
package whole
