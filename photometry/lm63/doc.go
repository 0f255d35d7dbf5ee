// Package lm63 reads and writes photometric files of ANSI/IES LM-63 and turns them into the light of one luminaire.
//
// It answers: what does this file say, to the last digit (File), what is wrong with it and where (diag.List), and what
// luminous intensity, cd, does the luminaire have in every direction of the type C frame (File.Luminaire):
//
//	I = tabulated candela x multiplier x ballast-lamp photometric factor
//
// The last factor counts in LM-63-1986 and -1991 only and in relative photometry only; later editions made its field "future
// use", then a file generation code. The ballast factor is kept beside (File.BallastFactor) and never multiplied in.
//
// # Source
//
// ANSI/IES LM-63-1986, -1991, -1995, -2002 and -2019. The texts of the standard were not at hand: the order of the fields, the
// format lines, the line limits, the shapes that negative dimensions mean and the file generation codes are from memory,
// unverified. Where the editions differ and where we had to choose, the comment at the place says so.
//
// # Types B and A
//
// Seen by someone behind the luminaire who looks along its (0, 0) axis, with positive vertical angles V upward and positive
// horizontal angles H to the right, the direction of (H, V) has these parts along the axis, to the right and up:
//
//	type A, polar axis vertical:               cos V cos H,   cos V sin H,   sin V
//	type B, polar axis horizontal, left-right: cos H cos V,   sin H,         cos H sin V
//
// The luminaire is then aimed straight down: the axis at nadir, "up" at C = 0, "right" at C = 270. So the file's plane H = 0
// is the type C plane 0-180 and its length still lies along it, as in a type C file; the polar axis of type B lies along
// the plane 90-270. The types themselves are from memory, unverified; how they hang is our reading. A table from 0 to 90 is
// read as mirrored, in H and in V alike.
//
// # Assumptions and limits
//
// Numbers are separated by any mix of spaces, tabs, commas and line ends. Text is UTF-8, or Latin-1 where the bytes are not
// UTF-8; inside and written it is UTF-8. Tilt factors are read and written but not applied: a luminaire hangs as it was
// tested. A file is refused above MaxBytes, a number above 1e12 or of more than 40 characters.
package lm63
