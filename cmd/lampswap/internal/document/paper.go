package document

// A Paper is a size of page, pt, and its name as style sheets have it.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers are those that can be asked for, by name.
var Papers = map[string]Paper{"letter": {"letter", 612, 792}, "a4": {"A4", 595.28, 841.89}}
