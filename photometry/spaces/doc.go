// Package spaces answers what kind of space a room is: which published levels and which limits of energy codes are about such a space, at which
// illuminance a model of power limits aims there, and what an occupancy sensor saves in it.
//
// Sources: the table is spaces.csv, a source in every row. Targets are those of the model from which a subcommittee of ASHRAE 90.1 derives limits of
// power, as transcribed in data files of NREL's ComStock, which were read; so are the savings of a sensor, which the file says rest on ASHRAE 90.1,
// table G3.7, which was not read. A target is an aim of a model, total horizontal illuminance in lm/ft2: it binds nobody, and many are 1.1 times a round
// number.
//
// Assumptions: which levels and which rows of a code are about a space is our reading of their words; the file has ids of levels and names of spaces as
// packages levels and codes have them. Levels for special kinds of work (construction, shipyards, marine terminals) are about no space in use.
//
// Limits: the list is not complete, and a space without a level or a limit in it may still have one.
package spaces
