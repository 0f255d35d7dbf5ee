package plots

// Words are those that figures write themselves, in another language, by their English; what they do not have stays English. The bars and the
// maps of light have them.
type Words map[string]string

func (w Words) of(english string) string {
	if said, known := w[english]; known {
		return said
	}
	return english
}
