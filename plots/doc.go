// Package plots draws the figures that go with a proposal: maps of light over a plan or a rack face, the same map before and after a
// change, and the candela of a luminaire in polar form. It answers "where is it bright, where is it dim, and which way does the
// luminaire send its light?"
//
// A map interpolates cell-centred values by cubic convolution along its rows, then along its columns, and cuts the surface at round
// levels. Between b and c, with the next values a and d outside, at a share t of the way:
//
//	E(t) = b + t/2 (c - a + t (2a - 5b + 4c - d + t (3(b - c) + d - a)))
//
// Over the last half cell before a wall or a rack the values go on along their slope. The surface is kept within the range of the
// values given, so that no band shows what no point has. Levels are multiples of 1, 2 or 5 times a power of ten, in the units of the
// job.
//
// Contours are marching squares with the saddle decided by the mean of its four corners. Source: our derivation. Colours are equal
// steps of CIE L* (CIE 15, colorimetry); how they look in grey and to a reader without the green cones is part of the tests.
//
// Assumptions: values are m, lx and cd in; feet and footcandles, where asked for, exist only on the paper. NaN is no point, and is
// left blank. Plans keep their proportions: a foot is as long across as along.
//
// Limits: a figure shows what it is given; no light is computed here. Columns and rows are taken to be evenly spaced where values
// are interpolated. Text is drawn in the characters that Liberation Sans has; PDF embeds those that are used, PNG draws their
// outlines, SVG names the font, whose widths are those of Arial, and does not embed it.
package plots
