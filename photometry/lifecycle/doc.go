// Package lifecycle answers whether a lamp swap is worth its money over the years, by the measures that federal buildings use.
//
// Every payment is brought to its present value. With the discount rate d, the yearly rise of the price of energy e (both real,
// above general inflation), a study period of N years and payments at the end of each year:
//
//	SPV(d, N)     = (1 + d)^-N                                   one payment in year N
//	UPV(d, N)     = (1 - (1 + d)^-N) / d                         one a year, N at d = 0
//	UPV*(d, e, N) = Σ t=1..N ((1 + e) / (1 + d))^t               one a year that grows with e, N at e = d
//
//	LCC  = investment + replacements - residual value + energy + maintenance, all present values
//	NS   = LCC of the base - LCC of the alternative              net savings: worth doing above 0
//	SIR  = S / I                                                 savings-to-investment ratio: worth doing above 1
//	AIRR = (S (1 + d)^N / I)^(1/N) - 1 = (1 + d) SIR^(1/N) - 1   adjusted internal rate of return: worth doing above d
//	       S: present value of the energy saved, less what maintenance costs more
//	       I: present value of what investment and replacements cost more, less what the residual value is more
//
// Payback is the time until the yearly gains have repaid the added first cost: simple without discounting, discounted with each
// year's gain at its present value.
//
// Source: 10 CFR 436.20 to 436.23 and 42 USC 8254, read in public copies; Life-Cycle Costing Manual, NIST Handbook 135 (1995),
// from memory: its text was not readable. The second form of AIRR and the closed form of UPV* are algebra.
//
// Assumptions: amounts are in the money of today, in any one currency; energy means everything priced by kWh, kW or volume. One
// rate e stands for every year, where the federal price factors have one for each year, region and fuel. No taxes, no loans.
//
// Limits: SIR and AIRR rank projects that do not exclude each other; between alternatives for one place NS decides. Payback looks at
// nothing after it is reached: a replacement that falls due later can undo it.
package lifecycle
