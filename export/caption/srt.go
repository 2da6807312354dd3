package caption

import (
	"bufio"
	"fmt"
	"io"
	"regexp"
	"strings"

	"golang.org/x/text/unicode/bidi"
)

// SubRip has no escapes and no standard (common practice, no source). What players
// would take for markup or for a time is broken by a word joiner, which nobody sees.
const joiner = "\u2060"

// Marks that make a player show a line from right to left whatever it takes for
// the text's own direction, as subtitlers do (common practice, no source).
const (
	rightToLeftFrom = "\u202B"
	rightToLeftTo   = "\u202C"
)

// srtMeans finds the first character of what would mean something.
var srtMeans = regexp.MustCompile(`<(?:[A-Za-z/!])|\{\\|-->`)

// WriteSRT writes a track as SubRip (.srt), without a byte order mark. The format
// holds neither language nor title; name the file by its language.
func WriteSRT(w io.Writer, t Track) error {
	b := bufio.NewWriter(w)
	for i, c := range t.ready() {
		if i > 0 {
			fmt.Fprint(b, "\n")
		}
		fmt.Fprintf(b, "%d\n%s --> %s\n", i+1, clock(c.Start, ","), clock(c.End, ","))
		for line := range strings.SplitSeq(c.Text, "\n") {
			line = srtMeans.ReplaceAllStringFunc(line, func(s string) string {
				at := 1
				if s == "-->" {
					at = 2
				}
				return s[:at] + joiner + s[at:]
			})
			if rightToLeft(line) {
				line = rightToLeftFrom + line + rightToLeftTo
			}
			fmt.Fprintf(b, "%s\n", line)
		}
	}
	if err := b.Flush(); err != nil {
		return fmt.Errorf("cannot write the captions: %w", err)
	}
	return nil
}

// rightToLeft says how a line is read: as its first letter with a direction is
// (Unicode Standard Annex 9, rules P2 and P3).
func rightToLeft(line string) bool {
	for _, r := range line {
		switch p, _ := bidi.LookupRune(r); p.Class() {
		case bidi.L:
			return false
		case bidi.R, bidi.AL:
			return true
		}
	}
	return false
}
