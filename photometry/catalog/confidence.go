package catalog

import (
	"regexp"

	"lampswap/photometry/internal/table"
)

// assumed is the confidence of what is our own estimate.
const assumed = "assumed"

// tags are the confidence words that stand in a text such as "watts seen; ballast factor memory".
var tags = regexp.MustCompile(`\b(memory-moderate|memory-low|memory|assumed|seen)\b`)

// confidenceWords puts a row's confidence into a reader's words; "" where all of it was seen in a public source.
func confidenceWords(confidence string) string {
	switch confidence {
	case table.Seen, table.Derived, table.MemoryLow:
		return table.ConfidenceWords(confidence)
	}
	return tags.ReplaceAllStringFunc(confidence, func(tag string) string {
		switch tag {
		case table.Seen:
			return "published"
		case assumed:
			return "our own estimate, unverified"
		}
		return table.ConfidenceWords(table.Memory)
	})
}

// ConfidenceWords says for a reader what the lumens rest on; "" where they were seen in a public source.
func (l Lamp) ConfidenceWords() string { return confidenceWords(l.Confidence) }

// ConfidenceWords says for a reader what watts and ballast factor rest on; "" where they were seen in a public source.
func (b Ballast) ConfidenceWords() string { return confidenceWords(b.Confidence) }

// Origin says where watts and ballast factor come from: the row of the list, and what it rests on.
func (b Ballast) Origin() string {
	origin := b.Name + " of the ballast list"
	if words := b.ConfidenceWords(); words != "" {
		origin += ", " + words
	}
	return origin
}
