package print

import "time"

// Options are what every print needs.
type Options struct {
	// Language of the page's own words: "en", "es", "fr" or "de"; anything else is
	// English. What people wrote stands as they wrote it.
	Language string
	// Made is the date in the foot and in the file's properties. The zero time prints
	// none and gives the same file every time.
	Made time.Time
}

// words is the language of one print.
type words struct{ table map[string]string }

func (o Options) words() words { return words{languages[o.Language]} }

// t is a text of the page in its language; one that is missing stays English.
func (w words) t(english string) string {
	if s, ok := w.table[english]; ok {
		return s
	}
	return english
}
