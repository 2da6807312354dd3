package sheet

import (
	"strconv"
	"strings"
	"time"
	"unicode"

	"whistlecut/timeline"
)

// yes and no are how a box is ticked or denied, as plain words.
var (
	yesWords = wordSet(`x xx y yes si s oui o ja j true verdadero vrai wahr 1 ok lead ld l lost lo call c inj i ni np lider tete v`)
	noWords  = wordSet(`no n non nein false falso faux falsch 0`)
)

// parseMark reads a tick box. ok is false for a text that is neither a tick nor a denial.
func parseMark(s string) (marked, ok bool) {
	switch s {
	case "-", "–", "—", ".", "/", "_":
		return false, true
	case "✓", "✔", "✗", "✘", "×", "•", "●", "■", "☒", "☑", "*", "+", "★", "√", "✕", "X", "x", "(x)", "(X)", "[x]", "[X]", "✖":
		return true, true
	case "☐", "□", "○", "[ ]", "( )":
		return false, true
	}
	p := plain(s)
	switch {
	case yesWords[p]:
		return true, true
	case noWords[p]:
		return false, true
	}
	return false, false
}

// parseSkater reads a skater's number from a cell: "#052", "494", "494 Star Rover".
func parseSkater(s string) (timeline.Number, bool) {
	s = strings.TrimSpace(strings.TrimLeft(strings.TrimSpace(s), "#"))
	if i := strings.IndexAny(s, ".,"); i > 0 && strings.Trim(s[i+1:], "0") == "" {
		s = s[:i]
	}
	first, rest, more := strings.Cut(s, " ")
	if !numberShaped(first) {
		return "", false
	}
	if more && !hasLetter(rest) {
		return "", false
	}
	return timeline.Number(first), true
}

func numberShaped(s string) bool {
	n, digit := 0, false
	for _, r := range s {
		if !unicode.IsDigit(r) && !unicode.IsLetter(r) {
			return false
		}
		digit = digit || unicode.IsDigit(r)
		n++
	}
	return digit && n <= 4
}

// parsePoints reads a points cell: "4", "4.0", "3+1" (summed).
func parsePoints(s string) (int, bool) {
	if n, ok := wholeNumber(s); ok && n >= -999 && n <= 9999 {
		return n, true
	}
	if !strings.ContainsAny(s, "+") {
		return 0, false
	}
	sum := 0
	for part := range strings.SplitSeq(s, "+") {
		n, ok := wholeNumber(strings.TrimSpace(part))
		if !ok || n < 0 || n > 99 {
			return 0, false
		}
		sum += n
	}
	return sum, true
}

// parseClock reads a time: "1:35", "01:35.2", "0:01:35", "95" (seconds), "1'35"",
// "PT1M35S" (as OpenDocument stores it), "1:35:00 PM" not.
func parseClock(s string) (time.Duration, bool) {
	s = strings.TrimSpace(s)
	if strings.HasPrefix(s, "PT") {
		d, err := time.ParseDuration(strings.ToLower(s[2:]))
		return d, err == nil && d >= 0
	}
	s = strings.NewReplacer("'", ":", "’", ":", "′", ":", "\"", "", "″", "", ",", ".").Replace(s)
	s = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(s), "s"), ":")
	parts := strings.Split(s, ":")
	if len(parts) > 3 || s == "" {
		return 0, false
	}
	total := 0.0
	for i, p := range parts {
		p = strings.TrimSpace(p)
		if p == "" && i == 0 && len(parts) > 1 {
			p = "0" // ":35"
		}
		v, err := strconv.ParseFloat(p, 64)
		if err != nil || v < 0 || v > 100_000 || strings.ContainsAny(p, "eExXpPnN+-_") || i > 0 && v >= 60 {
			return 0, false
		}
		total = total*60 + v
	}
	return time.Duration(total*1000+0.5) * time.Millisecond, true
}

// parseGameTime reads a length or a period clock, none of which reaches an hour.
// Spreadsheets take "2:00" typed into a cell for two o'clock and show "02:00:00
// AM" or "2:00:00"; such hours and minutes are minutes and seconds.
func parseGameTime(s string) (time.Duration, bool) {
	s = strings.ToUpper(strings.TrimSpace(s))
	bare, am := strings.CutSuffix(s, "AM")
	bare, pm := strings.CutSuffix(bare, "PM")
	d, ok := parseClock(bare)
	if !ok || !am && !pm && d < time.Hour {
		return d, ok
	}
	switch hour := d / time.Hour; {
	case am && hour == 12:
		d -= 12 * time.Hour
	case pm && hour < 12:
		d += 12 * time.Hour
	}
	if d%time.Minute == 0 && (am || pm || strings.Count(bare, ":") == 2 || strings.HasPrefix(bare, "PT")) {
		d /= 60
	}
	return d, true
}

// star says what a jam cell says about a star pass.
type star int

const (
	notStar   star = iota
	starOwn        // "SP"
	starOther      // "SP*": the opponents' star pass
)

// starRow reads the jam cell of a star-pass row in four languages; "SP 5" and
// "5 SP" name their jam, which follows from the row above anyway.
func starRow(s string) star {
	words := strings.Fields(plain(s))
	if len(words) == 0 || len(words) > 5 {
		return notStar
	}
	found := false
	for _, w := range words {
		switch {
		case starWords[w]:
			found = found || w != "de" && w != "pass" && w != "ps" || len(words) == 1
		case w == "d" || w == "de" || w == "l" || w == "la":
		default:
			if _, err := strconv.Atoi(w); err != nil {
				return notStar
			}
		}
	}
	if !found {
		return notStar
	}
	if strings.ContainsAny(s, "*★☆") && !strings.HasPrefix(s, "★") {
		return starOther
	}
	return starOwn
}

// isTotalLine reports a cell that begins a line of sums.
func isTotalLine(s string) bool {
	words := strings.Fields(plain(s))
	return len(words) > 0 && len(words) <= 4 && totalWords[words[0]]
}

// dashes are what people write into cells that stay empty.
func isDash(s string) bool { return s == "" || strings.Trim(s, "-–—._ ") == "" }

// parseRole reads a role of the rulebook in four languages, or its letter.
func parseRole(s string) (timeline.Role, bool) {
	switch plain(s) {
	case "j":
		return timeline.Jammer, true
	case "p":
		return timeline.Pivot, true
	case "b":
		return timeline.Blocker, true
	}
	for _, c := range readings(s) {
		if c.sure < 0.7 {
			break
		}
		switch c.field {
		case FieldJammer:
			return timeline.Jammer, true
		case FieldPivot:
			return timeline.Pivot, true
		case FieldBlocker:
			return timeline.Blocker, true
		}
	}
	return timeline.NoRole, false
}

// parseBoxMark reads a line-up sheet's box symbol.
func parseBoxMark(s string) (BoxMark, bool) {
	switch strings.ToUpper(strings.TrimSpace(s)) {
	case "-", "–", "—":
		return BoxEntered, true
	case "+", "X":
		return BoxBoth, true
	case "S":
		return BoxStill, true
	case "$":
		return BoxStillLeft, true
	}
	return "", false
}

// splitCode reads a penalty cell that holds code and jam: "B10", "B 10", "10B",
// "B (10)", "B/10", "P1 B10" (with the period). A missing part stays empty or 0.
func splitCode(s string) (code string, period, jam int) {
	var nums []int
	for _, w := range strings.Fields(spaceDigits(s)) {
		if n, err := strconv.Atoi(w); err == nil {
			nums = append(nums, n)
			continue
		}
		up := strings.ToUpper(strings.Trim(w, "()[]/.-:,;"))
		if up == "" || up == "J" && code != "" || up == "JAM" {
			continue
		}
		if code == "" {
			code = up
		} else if code == "P" && len(nums) == 1 && nums[0] <= 4 {
			// "P1 B10": what looked like a code was the period.
			period, code, nums = nums[0], up, nil
		}
	}
	if len(nums) > 0 {
		jam = nums[len(nums)-1]
		if len(nums) == 2 && period == 0 {
			period = nums[0]
		}
	}
	return code, period, jam
}

// spaceDigits puts spaces between letters, digits and signs.
func spaceDigits(s string) string {
	var b strings.Builder
	prev := rune(' ')
	for _, r := range s {
		kind := 'x'
		switch {
		case unicode.IsDigit(r):
			kind = '0'
		case unicode.IsLetter(r):
			kind = 'a'
		}
		if kind == 'x' {
			r = ' '
		}
		if kind != prev {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		prev = kind
	}
	return b.String()
}
