// Package job reads a job file: the room, the racks, where the luminaires hang, what they are before and after the swap, how
// they are kept up, and what is asked of the light.
//
// The file is TOML in feet and footcandles or in metres and lux; a Job is SI, checked and complete. Every fault of the file is
// noted with its place, all of them in one reading. A key that is left out takes a stated default, which the Job lists.
package job
