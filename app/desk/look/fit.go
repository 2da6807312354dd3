package look

import (
	"strings"

	"fyne.io/fyne/v2"
)

// Fit cuts a text with an ellipsis to a width.
func Fit(s string, width, size float32, style fyne.TextStyle) string {
	if fyne.MeasureText(s, size, style).Width <= width {
		return s
	}
	runes := []rune(s)
	low, high := 0, len(runes)
	for low < high {
		mid := (low + high + 1) / 2
		if fyne.MeasureText(string(runes[:mid])+"…", size, style).Width <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	if low == 0 {
		return ""
	}
	return string(runes[:low]) + "…"
}

// Break breaks a text at spaces into lines of a width; a word that is wider than
// that stands alone. What a dash joins, as "24 – 7", stays together.
func Break(s string, width, size float32, style fyne.TextStyle) []string {
	var out []string
	for _, para := range strings.Split(s, "\n") {
		line := ""
		for _, word := range joined(strings.Fields(para)) {
			next := word
			if line != "" {
				next = line + " " + word
			}
			if line != "" && width > 0 && fyne.MeasureText(next, size, style).Width > width {
				out = append(out, line)
				next = word
			}
			line = next
		}
		out = append(out, line)
	}
	return out
}

// breakTo is Break to so many lines at most; what is left is cut with an ellipsis.
func breakTo(most int, s string, width, size float32, style fyne.TextStyle) []string {
	if fyne.MeasureText(s, size, style).Width <= width {
		return []string{s}
	}
	lines := Break(s, width, size, style)
	if len(lines) > most {
		lines[most-1] = strings.Join(lines[most-1:], " ")
		lines = lines[:most]
	}
	for i, l := range lines {
		lines[i] = Fit(l, width, size, style)
	}
	return lines
}

// joined puts a dash and its two neighbours into one word.
func joined(list []string) []string {
	out := make([]string, 0, len(list))
	for i := 0; i < len(list); i++ {
		if list[i] == "–" && len(out) > 0 && i+1 < len(list) {
			out[len(out)-1] += " – " + list[i+1]
			i++
			continue
		}
		out = append(out, list[i])
	}
	return out
}
