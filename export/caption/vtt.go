package caption

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// What stands for characters that mean something in a cue (WebVTT, W3C Candidate
// Recommendation 4 April 2019, 4.2.2 "WebVTT caption or subtitle cue text"). With
// ">" escaped, "-->" cannot appear.
var vttEscape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// WriteVTT writes a track as WebVTT (.vtt). Language and title go into a comment:
// the format has no field for them. Each line is shown in the direction of its
// first letter, as the standard tells players (7.4 of it: "plaintext"), so text
// read from right to left needs nothing more.
func WriteVTT(w io.Writer, t Track) error {
	b := bufio.NewWriter(w)
	fmt.Fprint(b, "WEBVTT\n")
	note := func(name, value string) {
		// A comment must not hold the arrow.
		if value = strings.ReplaceAll(oneLine(value), "-->", "→"); value != "" {
			fmt.Fprintf(b, "\nNOTE %s: %s\n", name, value)
		}
	}
	note("Language", t.Language)
	note("Title", t.Title)
	for i, c := range t.ready() {
		fmt.Fprintf(b, "\n%d\n%s --> %s\n%s\n", i+1, clock(c.Start, "."), clock(c.End, "."), vttEscape.Replace(c.Text))
	}
	if err := b.Flush(); err != nil {
		return fmt.Errorf("cannot write the captions: %w", err)
	}
	return nil
}
