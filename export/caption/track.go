package caption

import (
	"cmp"
	"slices"
	"strings"
	"time"
	"unicode"

	"whistlecut/timeline"
)

// Cue is a text shown for a while.
type Cue struct {
	Start, End time.Duration // in the reel, from its start; written to the nearest millisecond
	Text       string        // plain text of one or more lines
}

// Track is the cues of one language.
type Track struct {
	Language string // ISO 639-1, "en"; may be empty
	Title    string // of the reel; may be empty
	Cues     []Cue
}

// OfReel makes a track for each language from the captions of a reel's clips, at
// the place each clip has in the reel. Cards say in the picture what they say.
// lengths are how long the parts of the finished film are; without it, or where
// one is missing, what the part itself says. Where a caption lacks a language it
// is given in the one it has.
func OfReel(title string, languages []string, parts []timeline.Part, lengths []time.Duration) []Track {
	if len(languages) == 0 {
		languages = []string{""}
	}
	var out []Track
	for _, l := range languages {
		t := Track{Language: l, Title: title}
		at := time.Duration(0)
		for i, p := range parts {
			length := p.Length()
			if i < len(lengths) {
				length = lengths[i]
			}
			if text := p.Caption.In(l); p.Clip != nil && length > 0 && tidy(text) != "" {
				t.Cues = append(t.Cues, Cue{at, at + length, text})
			}
			at += length
		}
		out = append(out, t)
	}
	return out
}

// ready gives the cues as they are written: in order of time, in whole
// milliseconds, none before the start, none without text, none without length.
func (t Track) ready() []Cue {
	var out []Cue
	for _, c := range t.Cues {
		c.Start, c.End = max(c.Start.Round(time.Millisecond), 0), c.End.Round(time.Millisecond)
		c.Text = tidy(c.Text)
		if c.Text == "" || c.End < 0 || c.End < c.Start {
			continue
		}
		c.End = max(c.End, c.Start+time.Millisecond) // players drop a cue of no length
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b Cue) int { return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.End, b.End)) })
	return out
}

// tidy makes text that a cue can hold: lines without empty ones between them,
// which would end the cue, and without control characters.
func tidy(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u0085", "\n", "\v", "\n", "\f", "\n", "\t", " ").Replace(s)
	var lines []string
	for line := range strings.SplitSeq(s, "\n") {
		line = strings.TrimSpace(strings.Map(func(r rune) rune {
			if unicode.IsControl(r) || r == '\uFEFF' {
				return -1
			}
			return r
		}, line))
		if line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

// oneLine makes text that fits on one line.
func oneLine(s string) string { return strings.ReplaceAll(tidy(s), "\n", " ") }
