package document

import "fmt"

// An RGB is a colour of screen and paper.
type RGB struct{ R, G, B uint8 }

// String is the colour as style sheets have it.
func (c RGB) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// A Look is the colours of a document. Every ink is read on Paper; Ink on Tint too, and each of the verdict's inks on its own paper.
type Look struct {
	Paper, Ink, Soft, Rule, Tint RGB
	Good, GoodPaper              RGB // of a verdict that is met: bar and ink of its word
	Bad, BadPaper                RGB // of one that is missed, and of every cell that alarms
	Open, OpenPaper              RGB // of one that is met but for something that must be minded
}

// The look of paper and of a light screen, and that of a dark one. Verdicts are blue, amber and violet, and a sign beside
// the word tells them apart where colours do not.
var (
	Light = Look{
		Paper: RGB{255, 255, 255}, Ink: RGB{0x1c, 0x27, 0x33}, Soft: RGB{0x4d, 0x58, 0x64}, Rule: RGB{0xc9, 0xcf, 0xd6}, Tint: RGB{0xf1, 0xf4, 0xf7},
		Good: RGB{0x1f, 0x46, 0x77}, GoodPaper: RGB{0xea, 0xf0, 0xf7}, Bad: RGB{0x8f, 0x47, 0x00}, BadPaper: RGB{0xfd, 0xf1, 0xe3},
		Open: RGB{0x63, 0x3d, 0x82}, OpenPaper: RGB{0xf5, 0xef, 0xfa},
	}
	Dark = Look{
		Paper: RGB{0x14, 0x1a, 0x21}, Ink: RGB{0xe6, 0xea, 0xee}, Soft: RGB{0xa9, 0xb4, 0xbf}, Rule: RGB{0x3a, 0x46, 0x52}, Tint: RGB{0x1d, 0x26, 0x30},
		Good: RGB{0x9c, 0xc4, 0xf2}, GoodPaper: RGB{0x1b, 0x2a, 0x3b}, Bad: RGB{0xf3, 0xb3, 0x6b}, BadPaper: RGB{0x36, 0x28, 0x17},
		Open: RGB{0xd2, 0xb8, 0xee}, OpenPaper: RGB{0x2e, 0x24, 0x3b},
	}
)

// Of returns the ink and the paper of a verdict with a mark.
func (l Look) Of(m Mark) (ink, paper RGB) {
	switch m {
	case Good:
		return l.Good, l.GoodPaper
	case Bad:
		return l.Bad, l.BadPaper
	case Open:
		return l.Open, l.OpenPaper
	case None:
	}
	return l.Soft, l.Tint
}
