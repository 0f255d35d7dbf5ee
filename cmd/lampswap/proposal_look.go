package main

import "fmt"

// An rgb is a colour of screen and paper.
type rgb struct{ R, G, B uint8 }

// String is the colour as style sheets have it.
func (c rgb) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// A look is the colours of a document. Every ink is read on Paper; Ink on Tint too, and each of the verdict's inks on its own paper.
type look struct {
	Paper, Ink, Soft, Rule, Tint rgb
	Good, GoodPaper              rgb // of a verdict that is met: bar and ink of its word
	Bad, BadPaper                rgb // of one that is missed, and of every cell that alarms
}

// The look of paper and of a light screen, and that of a dark one. Verdicts are blue and amber, which differ to every eye.
var (
	lightLook = look{
		Paper: rgb{255, 255, 255}, Ink: rgb{0x1c, 0x27, 0x33}, Soft: rgb{0x4d, 0x58, 0x64}, Rule: rgb{0xc9, 0xcf, 0xd6}, Tint: rgb{0xf1, 0xf4, 0xf7},
		Good: rgb{0x1f, 0x46, 0x77}, GoodPaper: rgb{0xea, 0xf0, 0xf7}, Bad: rgb{0x8f, 0x47, 0x00}, BadPaper: rgb{0xfd, 0xf1, 0xe3},
	}
	darkLook = look{
		Paper: rgb{0x14, 0x1a, 0x21}, Ink: rgb{0xe6, 0xea, 0xee}, Soft: rgb{0xa9, 0xb4, 0xbf}, Rule: rgb{0x3a, 0x46, 0x52}, Tint: rgb{0x1d, 0x26, 0x30},
		Good: rgb{0x9c, 0xc4, 0xf2}, GoodPaper: rgb{0x1b, 0x2a, 0x3b}, Bad: rgb{0xf3, 0xb3, 0x6b}, BadPaper: rgb{0x36, 0x28, 0x17},
	}
)
