package lm63_test

import (
	"fmt"
	"strings"

	"lampswap/photometry/lm63"
)

func Example() {
	const text = `IESNA:LM-63-2002
[TEST] synthetic
[LUMINAIRE] bare 4 ft strip
TILT=NONE
2 2900 1 3 1 1 1 0.35 4 0
0.88 1 59
0 45 90
0
1200 900 0
`
	file, err := lm63.Read("strip.ies", strings.NewReader(text))
	if err != nil {
		fmt.Println(err)
		return
	}
	luminaire, err := file.Luminaire()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(file)
	fmt.Printf("%s: %.0f lm of %.0f lm, ballast factor %v\n", file.Keyword("LUMINAIRE"), luminaire.Distribution.Flux(), luminaire.LampLumens, file.BallastFactor)

	_, err = lm63.Read("strip.ies", strings.NewReader(strings.Replace(text, " 900", " 9OO", 1)))
	fmt.Println(err)
	// Output:
	// LM-63-2002, type C, 2 x 2900 lm, 1 x 3 candela, rectangular, 59 W
	// bare 4 ft strip: 3734 lm of 5800 lm, ballast factor 0.88
	// strip.ies:9:6: candela: "9OO" is not a number, want a number
}
