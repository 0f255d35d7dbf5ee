// Package study works a job out: the light before and after the swap, whether it is enough, what it costs, and how both go on through the
// years.
//
//	light                         of each system, see lighting: initial × (product of all loss factors) / BF
//	verdict                       statistic of a grid ≥ or ≤ what each criterion asks
//	saving a year                 (kW before - kW after) × (hours × energy price + months × share × demand price) + upkeep saved
//	simple payback                net cost / saving of a year
//
// Sources: what is asked has its source in levels and codes, prices and emission rates theirs in utility; the life-cycle measures are those
// of package lifecycle; simple payback is common practice. How the parts are put together is our derivation.
//
// Assumptions: all systems burn the same hours and are judged with lamps at one age (JudgedAt); each may be
// kept up in a way of its own. A Result is in SI units; it holds everything that a writer
// shows, warnings and cautions in words among it. Words that only a reader of the command sees stand with the command.
//
// Limits: a simple payback does not discount; what the ways cost over the years, at present value, is Result.LifeCycle. How far the light
// may be from the prediction is package uncertainty, asked for by the job; other lamps for the same fixtures are package options; what
// readings on site make of a Result is package verification.
package study
