package diag

import "bytes"

// What is said of a text that is UTF-16, as some editors write it.
const (
	WrongUTF16 = "the file is UTF-16 text"
	WantUTF8   = "UTF-8: choose it as the encoding where the editor saves the file"
)

// UTF16 tells whether a text is UTF-16: by its byte order mark, of either order, or by half of its first character being 0.
func UTF16(text []byte) bool {
	return bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) ||
		len(text) > 1 && (text[0] == 0) != (text[1] == 0)
}
