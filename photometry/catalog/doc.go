// Package catalog lists what hangs in a fluorescent fixture: generic linear lamps by their ANSI designations, LED tubes that
// take their place, the ballasts that feed them, and the most watts that federal law let a new ballast draw.
//
//	ballast efficacy factor = 100 × ballast factor / input watts       (42 USC 6291)
//	most legal watts        = 100 × ballast factor / least ballast efficacy factor   (42 USC 6295(g))
//	lumens on a ballast     = rated lamp lumens × ballast factor                      (common practice)
//
// Sources: the tables lamps.csv, ballasts.csv, ballast_starting.csv and ceilings.csv have a source and a confidence in every row.
// Confidence words: seen (read in a public copy), derived (arithmetic on something seen), memory-moderate and memory-low (from
// memory, unverified), assumed (our own estimate). FromMemory tells those that must be shown as unverified, ConfidenceWords puts
// them into a reader's words.
//
// One rule for all lamps: where a range of initial lumens is known of a class, the lamp gives its middle, be it the lamp that goes or the one that
// comes, so that neither is favored and what is in doubt lies to both sides alike. What lumens lose is a share: of the one lamp whose
// mean and initial lumens were both seen, else the middle of the range of shares. The column initial_lumens of lamps.csv is the figure that the
// mean lumens go with.
//
// Nearly all input watts are from memory; the public tables of standard fixture wattages could not be read. What we add to
// the rows is computed and says so: type B LED tubes (kind "none": lamps times rated watts), reduced-wattage lamps on the
// instant-start ballasts of the 32 W lamp (watts in proportion to rated lamp watts) and sets of several equal ballasts.
//
// A lamp that a job describes by its figures is a Lamp too (Describe), with the ballasts of the family whose watts, length and diameter it has. An LED tube
// is of type A, B or C (LEDType); one of type A runs on the ballasts of a family with watts in proportion, assumed.
//
// Limits: no makes are listed, and a row is a typical product: the data sheet of the lamp and the label of the ballast at hand
// always count for more. Watts and ballast factor hold for that lamp and number of lamps only.
package catalog
