// Package plots draws the figures that go with a proposal and with an inspection. Each answers one question:
//
//   - Map, Sheet: where is it bright, where is it dim, and what does the change alter?
//   - Polar: which way does the luminaire send its light?
//   - Years: is it still bright enough in five years, and when does it first fall below a level?
//   - Front: how much light is to be had for how much power, and which options meet every criterion?
//   - Cash: what does each system cost over the years, and of what is that cost made?
//   - Effects: which input matters most for how sure the result is?
//   - Stations: where to measure, and how far are the readings from the prediction?
//
// A map interpolates cell-centred values by cubic convolution along its rows, then along its columns, and cuts the surface at round
// levels. Between b and c, with the next values a and d outside, at a share t of the way:
//
//	E(t) = b + t/2 (c - a + t (2a - 5b + 4c - d + t (3(b - c) + d - a)))
//
// Source: R. Keys, IEEE Trans. Acoust., Speech, Signal Process. 29 (1981) 1153, with his constant at -1/2; from memory, unverified as
// text. That it meets polynomials as it should is a test.
//
// Over the last half cell before a wall or a rack the values go on along their slope. The surface is kept within the range of the
// values given, so that no band shows what no point has. Levels are multiples of 1, 2 or 5 times a power of ten, in the units of the
// job.
//
// Contours are marching squares with the saddle decided by the mean of its four corners. Source: our derivation.
//
// Colours are equal steps of CIE L* (CIE 15, colorimetry). How they look was checked so: the tests turn every palette that a figure can
// ask for, and the colours of lines and bars, into grey (L* alone) and into what an eye without green cones sees, by two published
// simulations (Machado, Oliveira and Fernandes 2009; Viénot, Brettel and Mollon 1999), and ask that neighbours stay apart in each and
// that gain stays amber and loss blue. The matrix of the first and the construction of the second are from memory, unverified; the
// numbers of the second are second-hand. Where a sign or a system matters, it does not hang on colour: losses have dashed contours and
// signed labels, deviations have marks that point up or down, options that meet are filled and others hollow, and curves differ in
// dashes and bear their names at their ends.
//
// Labels stand where they meet no other text. Where there is no room for one, the figure says so below, or names it there by number.
//
// Assumptions: values are m, lx, W and cd in; feet and footcandles, where asked for, exist only on the paper. NaN is no point, and is
// left blank; in charts an infinity is none either. Plans keep their proportions: a foot is as long across as along.
//
// Limits: a figure shows what it is given; no light is computed here. Columns and rows are taken to be evenly spaced where values
// are interpolated. Text is drawn in the characters that Liberation Sans has; PDF embeds those that are used, PNG draws their
// outlines, SVG names the font, whose widths are those of Arial, and does not embed it.
package plots
