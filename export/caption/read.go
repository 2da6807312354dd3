package caption

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
)

// largest is more than the captions of any film; reading stops there.
const largest = 16 << 20

// block is lines between empty lines.
type block struct {
	line  int // of its first line, from 1
	lines []string
}

func blocks(r io.Reader) ([]block, error) {
	data, err := io.ReadAll(io.LimitReader(r, largest+1))
	if err != nil {
		return nil, fmt.Errorf("cannot read the captions: %w", err)
	}
	if len(data) > largest {
		return nil, fmt.Errorf("the captions are larger than %d MB, which no film's are", largest>>20)
	}
	text := strings.TrimPrefix(strings.ToValidUTF8(string(data), "\uFFFD"), "\uFEFF")
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	var out []block
	open := false
	for i, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) == "" {
			open = false
			continue
		}
		if !open {
			out, open = append(out, block{line: i + 1}), true
		}
		b := &out[len(out)-1]
		b.lines = append(b.lines, line)
	}
	return out, nil
}

// cue reads a block with a time in its first or second line.
func (b block) cue(plain func(string) string) (Cue, bool, error) {
	for i, line := range b.lines[:min(len(b.lines), 2)] {
		if !strings.Contains(line, "-->") {
			continue
		}
		start, end, err := parseTiming(line)
		if err != nil {
			return Cue{}, true, fmt.Errorf("line %d: %w", b.line+i, err)
		}
		return Cue{start, end, tidy(plain(strings.Join(b.lines[i+1:], "\n")))}, true, nil
	}
	return Cue{}, false, nil
}

var (
	vttTag   = regexp.MustCompile(`<[^>]*>`)
	vttPlain = strings.NewReplacer("&amp;", "&", "&lt;", "<", "&gt;", ">", "&nbsp;", "\u00a0", "&lrm;", "\u200e", "&rlm;", "\u200f")
	srtTag   = regexp.MustCompile(`</?[A-Za-z][^>]*>|\{\\[^}]*\}`)
)

// ReadVTT reads WebVTT: cues as plain text without their settings and markup, and
// language and title where [WriteVTT] left them. Errors name the line.
func ReadVTT(r io.Reader) (Track, error) {
	list, err := blocks(r)
	if err != nil {
		return Track{}, err
	}
	if len(list) == 0 || list[0].line != 1 || !signature(list[0].lines[0]) {
		return Track{}, errors.New("this is no WebVTT file: its first line does not begin with WEBVTT")
	}
	var t Track
	for _, b := range list[1:] {
		first := b.lines[0]
		if note, ok := strings.CutPrefix(first, "NOTE"); ok && (note == "" || note[0] == ' ' || note[0] == '\t') {
			if v, ok := strings.CutPrefix(note, " Language: "); ok {
				t.Language = oneLine(v)
			} else if v, ok := strings.CutPrefix(note, " Title: "); ok {
				t.Title = oneLine(v)
			}
			continue
		}
		c, ok, err := b.cue(func(s string) string { return vttPlain.Replace(vttTag.ReplaceAllString(s, "")) })
		if err != nil {
			return Track{}, err
		}
		if ok && c.Text != "" {
			t.Cues = append(t.Cues, c)
		}
	}
	return t, nil
}

func signature(line string) bool {
	rest, ok := strings.CutPrefix(line, "WEBVTT")
	return ok && (rest == "" || rest[0] == ' ' || rest[0] == '\t')
}

// ReadSRT reads SubRip: cues as plain text. Errors name the line.
func ReadSRT(r io.Reader) (Track, error) {
	list, err := blocks(r)
	if err != nil {
		return Track{}, err
	}
	var t Track
	for _, b := range list {
		c, ok, err := b.cue(plainSRT)
		if err != nil {
			return Track{}, err
		}
		if !ok {
			return Track{}, fmt.Errorf("line %d: %.60q is followed by no time; want 00:00:01,000 --> 00:00:02,500", b.line, b.lines[0])
		}
		if c.Text != "" {
			t.Cues = append(t.Cues, c)
		}
	}
	return t, nil
}

// plainSRT takes markup and our own marks out of a cue's text.
func plainSRT(s string) string {
	lines := strings.Split(srtTag.ReplaceAllString(s, ""), "\n")
	for i, l := range lines {
		if inner, ok := strings.CutPrefix(l, rightToLeftFrom); ok {
			l = strings.TrimSuffix(inner, rightToLeftTo)
		}
		for _, m := range []string{"--" + joiner + ">", "{" + joiner + "\\"} {
			l = strings.ReplaceAll(l, m, strings.ReplaceAll(m, joiner, ""))
		}
		lines[i] = srtBroken.ReplaceAllString(l, "<$1")
	}
	return strings.Join(lines, "\n")
}

var srtBroken = regexp.MustCompile(`<` + joiner + `([A-Za-z/!])`)
