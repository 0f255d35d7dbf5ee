// Package verification answers what readings on site prove: it holds them against the prediction for their day, station by station and on
// average, decides each criterion, and corrects the prediction after a swap by readings taken before it.
//
//	predicted for the day = initial at the station × loss factors on the day
//	found                   average of the readings, by the formula of the plan, tested against the criterion
//	carried                 found × (loss factors of the job) / (loss factors on the day), tested likewise
//	corrected               predicted after × measured before / predicted before
//
// Source: the plan and its averages are those of package survey, budgets of uncertainty, guard bands and the correction those of package
// metrology, which name their sources. That daylight and unread stations take an outcome back is our derivation: see Decided.Doubt.
//
// Readings may be mistaken: a slip, another unit, the same number everywhere, the light of another job. What of them is not resolved
// (Unresolved) takes back every outcome, met or missed. A reading is unlike the others by its modified z-score, from the median and the
// scaled median absolute deviation of measured over predicted (see metrology.Compare); the other bounds are our choice, each at its place.
//
// Assumptions: what was not written down on site is as the job has it, and a warning says so. The prediction's own doubt (package
// uncertainty) is in the comparison of stations and in the correction, not in a decision, which rests on readings alone.
//
// Limits: a carried decision rests on loss factors whose doubt is not in it. A criterion of a grid that was not measured is not tested.
package verification
