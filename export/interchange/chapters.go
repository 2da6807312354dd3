package interchange

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
)

// Chapter is a named part of a film.
type Chapter struct {
	Title    string
	From, To time.Duration
}

// What must be escaped (FFmpeg documentation, "Metadata": "Metadata keys or values
// containing special characters (=, ;, #, \ and a newline) must be escaped with a
// backslash"). Line ends become spaces: a title has one line.
var escapeMetadata = strings.NewReplacer("\\", "\\\\", "=", "\\=", ";", "\\;", "#", "\\#", "\r\n", " ", "\n", " ", "\r", " ", "\x00", "")

// WriteChapters writes chapters as ffmpeg's metadata text, in milliseconds. They go
// into a film by: ffmpeg -i film.mp4 -i chapters.txt -map_metadata 0 -map_chapters 1 -c copy out.mp4
func WriteChapters(w io.Writer, title string, list []Chapter) error {
	b := bufio.NewWriter(w)
	fmt.Fprint(b, ";FFMETADATA1\n")
	if title != "" {
		fmt.Fprintf(b, "title=%s\n", escapeMetadata.Replace(title))
	}
	for _, c := range list {
		from, to := c.From.Round(time.Millisecond).Milliseconds(), c.To.Round(time.Millisecond).Milliseconds()
		fmt.Fprintf(b, "\n[CHAPTER]\nTIMEBASE=1/1000\nSTART=%d\nEND=%d\ntitle=%s\n", from, max(to, from+1), escapeMetadata.Replace(c.Title))
	}
	if err := b.Flush(); err != nil {
		return fmt.Errorf("cannot write the chapters: %w", err)
	}
	return nil
}

// ReadChapters reads what WriteChapters writes.
func ReadChapters(r io.Reader) (title string, list []Chapter, err error) {
	s := bufio.NewScanner(io.LimitReader(r, largest))
	s.Buffer(nil, 1<<20)
	if !s.Scan() || s.Text() != ";FFMETADATA1" {
		return "", nil, errors.Join(s.Err(), errors.New("these are no chapters: the first line is not ;FFMETADATA1"))
	}
	for n := 2; s.Scan(); n++ {
		line := s.Text()
		switch {
		case line == "" || line == "TIMEBASE=1/1000":
			continue
		case line == "[CHAPTER]":
			list = append(list, Chapter{})
			continue
		}
		name, value, ok := strings.Cut(line, "=")
		if !ok {
			return "", nil, fmt.Errorf("line %d: %.60q is not understood", n, line)
		}
		if name == "title" {
			value = unescape(value)
			if len(list) == 0 {
				title = value
			} else {
				list[len(list)-1].Title = value
			}
			continue
		}
		ms, err := strconv.ParseInt(value, 10, 40)
		if err != nil || len(list) == 0 || name != "START" && name != "END" {
			return "", nil, fmt.Errorf("line %d: %.60q is not understood", n, line)
		}
		if d := time.Duration(ms) * time.Millisecond; name == "START" {
			list[len(list)-1].From = d
		} else {
			list[len(list)-1].To = d
		}
	}
	return title, list, s.Err()
}

func unescape(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) {
			i++
		}
		b.WriteByte(s[i])
	}
	return b.String()
}
