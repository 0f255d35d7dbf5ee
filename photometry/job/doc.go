// Package job reads a job file: the room, the racks, where the luminaires hang, what they are before and after the swap, how
// they are kept up, and what is asked of the light.
//
//	units = "imperial"            # or "metric"
//	[room]
//	length = 120.0                # ft
//	width = 60.0
//	height = 18.0
//	[layout]
//	mounting_height = 16.0
//	rows = 6
//	columns = 12
//	[existing]
//	photometry = "strip.ies"
//	[proposed]
//	photometry = "strip.ies"
//	lamp_lumens = 2800.0
//
// The file is TOML in feet and footcandles or in metres and lux; a Job is SI, checked and complete. Every fault of the file is
// noted with its place, all of them in one reading. A key that is left out takes a stated default, which the Job lists.
//
// Source: the format is ours. Where a default or a tolerance comes from stands in its reason, or beside it in the code.
//
// Assumptions: luminaires hang in even rows and columns, half a spacing from the walls, unless their places are given, each at one height
// but for positions with a height of their own; the ceiling is flat all the same, which a warning then says; both systems
// share room, racks and upkeep.
//
// Limits: no light is computed here (package lighting), but that a cross-section is made into a luminaire (package fixture).
package job
