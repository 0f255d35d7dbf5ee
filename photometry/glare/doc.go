// Package glare rates the discomfort glare that luminaires give to somebody who looks at a room.
//
//	UGR = 8 lg( 0.25 / Lb × Σ L² ω / p² )
//
// Lb is the background luminance, cd/m²: the illuminance on an upright surface at the eye, square to the line of sight, of the light that
// bounces, over π. Of each luminaire in front of the eye L is its luminance, cd/m²: its intensity toward the eye over the projected area of
// its luminous opening, whose sides count where it has a height; ω that area over the square of its distance, sr; p the position index of
// Guth by a fit, see PositionIndex.
//
// Sources: CIE 117:1995 for the rating, from memory, unverified; the fit of the position index too. That sides count in the projected area
// is common practice, no source.
//
// Assumptions: a luminaire is seen from its photometric center, whole, as one source. The line of sight is level. All luminaires in front of
// the eye count, also far aside and below the line of sight, where the fit's widest angle from the vertical, 90 degrees, is taken; nothing is clamped.
//
// Limits: the rating was made for sources from 0.0003 to 0.1 sr (from memory); others are counted, and how many is told. It holds for light
// by luminaires, not for daylight, and for the new lamps that the intensity is of.
package glare
