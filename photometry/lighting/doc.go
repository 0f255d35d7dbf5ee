// Package lighting answers how much light one system of a job gives in its room: on average by the lumen
// method, and at every point of every grid, new and maintained.
//
//	initial by the lumen method   E = N Φ CU BF / A
//	initial point by point        E = direct + interreflected, both with the ballast factor BF
//	maintained                    initial × (product of all loss factors) / BF
//
// Sources: ANSI/IES LS-1, light loss factor, for the product; the equation of the lumen method and of each
// part of the light are in packages cavity, direct and interreflect, those of the loss factors in losses. How
// the parts are put together is our derivation.
//
// A Space is the room with its racks. It is made once, and each system is solved in it; a Cache keeps what
// several jobs have in common. Light is linear in lumens and ballast factor, and so one solve serves every
// lamp that sends its light the same way: System.Relamped.
//
// Assumptions: a loss factor takes the same share at every point. All numbers are in SI units.
//
// Limits: the lumen method sees neither racks nor explicit positions, of whose heights it takes the mean.
// Whether the light is enough, and what it costs, is package study.
package lighting
