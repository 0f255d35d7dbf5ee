// Package utility holds what electricity costs and what it emits, place by place: the average price that commercial customers
// pay in each US state, and published rates of CO2.
//
//	money = price × kWh        kg CO2 = rate × kWh        1 lb = 0.45359237 kg (exact)
//
// The tables are states.csv and rates.csv, a source and a confidence in every row. Sources: EIA Electric Power Annual 2023
// (prices); EIA state generation and CO2 of 2023 as compiled in a US DOE building-stock data set (state rates); EPA and EIA
// public pages (the other rates). Confidence words: seen (in a public copy), seen-secondhand (quoted by somebody), derived
// (arithmetic on something seen), memory-moderate (from memory, unverified; never to be shown as published).
//
// A price here is revenue over kWh, so it holds demand and fixed charges already: a demand charge on top of it counts demand
// twice. With a demand charge take the energy part of the customer's tariff.
//
// A rate of CO2 has a kind, and the kind decides what it may be multiplied with: total output for electricity used, non-baseload
// for electricity saved (see Kind). The two can differ threefold, so a result names the rate, its kind and its year
// (Rate.Label).
//
// Limits: a state's rate is an average over its power plants, what it imports left out; no non-baseload rate of a state is known
// here. Prices are of 2023 and of no particular tariff: the customer's bill always counts for more.
package utility
