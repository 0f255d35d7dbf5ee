package table

import "strings"

// How sure a value is, as the tables' confidence columns say it.
const (
	Seen       = "seen"            // in a public copy of the text
	Secondhand = "seen-secondhand" // quoted by somebody
	Derived    = "derived"         // arithmetic on something seen
	Memory     = "memory-moderate" // from memory, unverified
	MemoryLow  = "memory-low"
)

// Confidence returns a confidence that must be there and be one of the words above.
func (r Row) Confidence(column string) string {
	confidence := r.Required(column)
	switch confidence {
	case Seen, Secondhand, Derived, Memory, MemoryLow:
		return confidence
	}
	r.Fail(column, "is not known")
	return ""
}

// FromMemory tells that a value is from memory, unverified, and must not be shown as published.
func FromMemory(confidence string) bool { return strings.HasPrefix(confidence, "memory") }

// ConfidenceWords is what a reader is told beside a value; nothing about one that was seen.
func ConfidenceWords(confidence string) string {
	switch confidence {
	case Seen:
		return ""
	case Secondhand:
		return "quoted second-hand, the source itself was not read"
	case Derived:
		return "computed from published figures"
	case MemoryLow:
		return "from memory, unverified, of low confidence: check before use"
	}
	return "from memory, unverified"
}
