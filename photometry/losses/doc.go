// Package losses holds the light loss factors: how much of the initial light is left when lamps have aged and dirt has settled.
//
//	LLF = ballast factor × lamp lumen depreciation × luminaire dirt × room surface dirt × burnout × temperature × voltage × other
//	luminaire dirt  LDD = exp(-A t^B)                     t in years since cleaning
//	lamp lumens     LLD(t) = (mean / initial)^√(t / (0.4 life))    between the two published points
//	LED lumens      LLD(t) = 0.7^(t / L70 life)
//	expected dirt on room surfaces  D(t) = 100 (1 - (1 - D12/100)^(t^0.7)) percent, t in years
//
// Sources: factor definitions, ANSI/IES LS-1 [9.4.9] (seen). A and B, the room surface dirt table and the dirt percents at 12
// months: IES Lighting Handbook to its 9th edition, from memory, unverified; three of the thirty A, B pairs are touched by published
// read-offs. Mean lumens are those at 40 percent of rated life (seen). The two laws of lamp lumens over time and the law of dirt over time
// are ours, assumed. Every Factor carries in words what it rests on, for the user to see.
//
// The older dirt curves rest on studies of the 1950s and a later field study found them to overstate the loss; the later model's constants
// (RP-36-03) were not found. No curve of light against ambient temperature was found either: TemperatureAdvice warns and
// asks, and never corrects.
package losses
