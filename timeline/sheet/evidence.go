package sheet

import (
	"strings"
	"unicode"
)

// look at what a column holds: shares of its filled cells, 0..1.
type evidence struct {
	rows    int // rows of the block
	filled  int
	number  float64 // whole numbers
	trip    float64 // whole numbers 0..6
	mark    float64 // marks: X, ✓, 1...
	letter  float64 // one letter, or a letter with a number ("B10")
	time    float64 // m:ss
	skater  float64 // up to four digits or letters with at least one digit
	star    float64 // star-pass words, in a jam column
	counts  float64 // numbers that are the one before plus one, or start at 1
	steps   float64 // numbers that are the one before, or that plus one, or 1
	rises   float64 // numbers not smaller than the one before
	max     int
	text    float64
	variety int   // different texts
	values  []int // whole numbers by row, -1 without
}

// maxEvidenceRows is how many rows are looked at.
const maxEvidenceRows = 400

func gather(g Grid, c, first, last int) evidence {
	var e evidence
	var numbers, trips, marks, letters, times, skaters, stars, counts, steps, rises, texts int
	prev, seen := -1, map[string]bool{}
	for r := first; r <= min(last, first+maxEvidenceRows); r++ {
		e.rows++
		e.values = append(e.values, -1)
		s := g.At(r, c)
		if s == "" {
			continue
		}
		e.filled++
		seen[s] = true
		if n, ok := wholeNumber(s); ok {
			numbers++
			e.values[len(e.values)-1] = n
			if n >= 0 && n <= 6 {
				trips++
			}
			if n == prev+1 || n == 1 && prev != 0 {
				counts++
			}
			if n == prev || n == prev+1 || n == 1 {
				steps++
			}
			if n >= prev {
				rises++
			}
			prev = n
			e.max = max(e.max, n)
		}
		if isMark(s) {
			marks++
		}
		if isCodeCell(s) {
			letters++
		}
		if _, ok := parseGameTime(s); ok && strings.Contains(s, ":") {
			times++
		}
		if isSkaterNumber(s) {
			skaters++
		}
		if starRow(s) != notStar {
			stars++
		}
		if hasLetter(s) && len(s) > 4 {
			texts++
		}
	}
	share := func(n int) float64 {
		if e.filled == 0 {
			return 0
		}
		return float64(n) / float64(e.filled)
	}
	e.number, e.trip, e.mark, e.letter = share(numbers), share(trips), share(marks), share(letters)
	e.time, e.skater, e.star, e.text = share(times), share(skaters), share(stars), share(texts)
	if numbers > 0 {
		e.counts, e.rises = float64(counts)/float64(numbers), float64(rises)/float64(numbers)
		e.steps = float64(steps) / float64(numbers)
	}
	e.variety = len(seen)
	return e
}

// runs reports that the column is the running total of points per jam, but for
// a few slips.
func (e evidence) runs(points evidence) bool {
	right, wrong, prev := 0, 0, 0
	for i, v := range e.values {
		if v < 0 || i >= len(points.values) {
			continue
		}
		p := max(points.values[i], 0)
		switch {
		case v == prev+p:
			if p > 0 {
				right++
			}
		default:
			wrong++
		}
		prev = v
	}
	return right >= 2 && right > 3*wrong
}

// fits says how well what a column holds fits a field, -1 (contradicts) to 1
// (speaks for it); 0 when the cells say nothing.
func (e evidence) fits(f Field) float64 {
	if e.filled == 0 {
		return 0
	}
	switch f {
	case FieldJam, FieldPenaltyJam, FieldOutJam:
		if f != FieldJam || e.number+e.star < 0.9 {
			return 2*min(1, e.number+e.star) - 1
		}
		// Jam numbers stay, go up by one, or begin anew.
		if e.steps > 0.8 {
			return 1
		}
		return max(-1, 2.5*(e.steps-0.8))
	case FieldPeriod:
		if e.number > 0.9 && e.max <= 4 {
			return 0.6
		}
		return -0.3
	case FieldTrip:
		return 2*e.trip - 1
	case FieldJamTotal:
		return 1.4*e.number - 0.7
	case FieldGameTotal:
		if e.number > 0.8 && e.rises > 0.9 {
			return 0.8
		}
		return 1.2*min(e.number, e.rises) - 0.8
	case FieldLost, FieldLead, FieldCall, FieldInj, FieldNI, FieldNoPivot, FieldBetween, FieldRetained:
		return 2*e.mark - 1
	case FieldJammer, FieldPivot, FieldBlocker, FieldSkater:
		return 1.6*e.skater - 0.8
	case FieldDuration, FieldClock, FieldClockEnd, FieldIn, FieldStand, FieldDone:
		return max(e.time, 0.4*e.number)*1.4 - 0.5
	case FieldCode, FieldPenalty:
		return max(e.letter, 0.7*e.mark)*1.4 - 0.6
	case FieldName, FieldTrips, FieldMarks, FieldType:
		return 0
	case FieldBox:
		return 0.5 - e.skater
	}
	return 0
}

// isMark reports a cell that ticks a box, or says yes or no.
func isMark(s string) bool {
	_, ok := parseMark(s)
	return ok
}

// isCodeCell reports a penalty cell: "B", "B10", "B 10", "10 B", "FO".
func isCodeCell(s string) bool {
	if len(s) > 12 {
		return false
	}
	letters, digits := 0, 0
	for _, r := range s {
		switch {
		case unicode.IsLetter(r):
			letters++
		case unicode.IsDigit(r):
			digits++
		}
	}
	return letters >= 1 && letters <= 4 && digits <= 4
}

// isSkaterNumber reports up to four letters or digits with at least one digit
// (Uniform requirements 2009 and 2016), as a cell or before a name.
func isSkaterNumber(s string) bool {
	_, ok := parseSkater(s)
	return ok
}
