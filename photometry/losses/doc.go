// Package losses holds the light loss factors: how much of the initial light is left when lamps have aged and dirt has settled, in the cold, and
// from year to year.
//
//	LLF = ballast factor × lamp lumen depreciation × luminaire dirt × room surface dirt × burnout × temperature × voltage × other
//	luminaire dirt  LDD = exp(-A t^B)                     t in years since cleaning
//	lamp lumens     LLD(t) = (mean / initial)^√(t / (0.4 life))    between the two published points
//	LED lumens      LLD(t) = 0.7^(t / L70 life)
//	age judged      t = 0.4 life (Basis: mid-life), the end of the relamping interval or of life, or hours that are given
//	expected dirt on room surfaces  D(t) = 100 (1 - (1 - D12/100)^(t^0.7)) percent, t in years
//	light kept at time t    Kept(t) = LLD(since relamping) × LDD(since cleaning) × RSDD(since cleaning) × the constant factors
//	lamps replaced singly   mean of LLD over their ages, by renewal theory with lives spread normally
//	temperature             straight lines between the points of the lamp's data sheet; else an estimate between published points
//
// Sources: factor definitions, ANSI/IES LS-1 [9.4.9] (seen). A and B, the room surface dirt table and the dirt percents at 12
// months: IES Lighting Handbook to its 9th edition, from memory, unverified; three of the thirty A, B pairs are touched by published
// read-offs. Mean lumens are those at 40 percent of rated life (seen). The two laws of lamp lumens over time, the law of dirt over time and the
// spread of lamp lives, 20 percent of the rated life, are ours, assumed. Every Factor carries what it rests on, for the user to see.
//
// A Course starts at day 0 with new lamps and clean surfaces. Cleaning takes the dirt off luminaires and room surfaces together, relamping as a group
// renews all lamps, so that the least light of group relamping is the product of the factors, where both cycles end together. A factor that is
// given as a number is held constant, since how it came about over the years is not known.
//
// The older dirt curves rest on studies of the 1950s and a later field study found them to overstate the loss; the later model's constants
// (RP-36-03) were not found. No curve of light against ambient temperature was found either, only single points that conflict: TemperatureAdvice
// estimates between them with a wide doubt, says so each time, and asks for the lamp's data sheet. Watts, which fall in the cold too, are left alone.
package losses
