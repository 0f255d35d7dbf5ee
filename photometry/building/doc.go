// Package building reads the file of a building: what its rooms have in common, and the rooms, each in place or by the path of a job. A room
// becomes a checked job.Job; all luminaires together become one more, for the building's energy and money.
//
// Wrong keys are told with file, line and column through every level, all at once: those of the building, of rooms in place, and of jobs.
package building
