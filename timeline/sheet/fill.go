package sheet

import "math"

func chosenIndex(chosen []Column, f Field) int {
	for i, c := range chosen {
		if c.Field == f {
			return i
		}
	}
	return -1
}

func setColumn(c *Column, f Field, n int, sure float64, why string) {
	c.Field, c.N, c.Certainty, c.Reason = f, n, round2(sure), why
}

// spread carries a heading merged over several columns ("Trips", "Penalties",
// "Blockers") on to the columns right of it that have none and hold the like.
func spread(k Kind, cols []headCol, chosen []Column) {
	for i := 0; i < len(chosen); i++ {
		f, ok := chosen[i].Field, false
		var like func(evidence) bool
		n := chosen[i].N
		switch {
		case k == KindScore && f == FieldTrips:
			like, ok = func(e evidence) bool { return e.trip > 0.8 }, cols[i].ev.trip > 0.8
			f, n = FieldTrip, 2
		case k == KindPenalties && (f == FieldPenalty || f == FieldCode && !hasChosen(chosen[i+1:], FieldCode)):
			like, ok = func(e evidence) bool { return e.letter+e.number > 0.8 }, !hasChosen(chosen, FieldJam)
			f, n = FieldPenalty, max(n, 1)
		case k == KindLineups && f == FieldBlocker:
			like, ok = func(e evidence) bool { return e.skater > 0.7 }, true
			n = max(n, 1)
		}
		if !ok {
			continue
		}
		j := i + 1
		for j < len(chosen) && chosen[j].Field == FieldKeep && cols[j].heading == "" &&
			cols[j].index == cols[j-1].index+1 && (cols[j].ev.filled == 0 || like(cols[j].ev)) {
			j++
		}
		for j > i+1 && cols[j-1].ev.filled == 0 {
			j--
		}
		if j == i+1 {
			continue
		}
		setColumn(&chosen[i], f, n, chosen[i].Certainty, chosen[i].Reason)
		for x := i + 1; x < j; x++ {
			setColumn(&chosen[x], f, n+x-i, chosen[i].Certainty*0.85, "under the heading to the left")
		}
		i = j - 1
	}
}

func hasChosen(chosen []Column, f Field) bool { return chosenIndex(chosen, f) >= 0 }

// fillJam finds a jam column without a heading: numbers that count up.
func fillJam(cols []headCol, chosen []Column) {
	for i, c := range cols {
		if chosen[i].Field == FieldKeep && c.ev.filled >= 3 && c.ev.fits(FieldJam) == 1 {
			setColumn(&chosen[i], FieldJam, 0, 0.6, "numbers counting up")
			return
		}
	}
}

// fillScore gives fields to score columns whose headings are missing or say too
// little, by what the cells hold and where they stand, and tells the jam total
// from the running total.
func fillScore(cols []headCol, chosen []Column) {
	if chosenIndex(chosen, FieldJam) < 0 {
		fillJam(cols, chosen)
	}
	fillTrips(cols, chosen)
	fillJammer(cols, chosen)
	fillMarks(cols, chosen)
	fillTotals(cols, chosen)
	settleTotals(cols, chosen)
	baseTrips(cols, chosen)
}

// fillTrips numbers columns of small numbers that stand in a gap of the trip
// columns, or in a row of at least three without any heading.
func fillTrips(cols []headCol, chosen []Column) {
	for i := 1; i < len(chosen); i++ {
		if chosen[i].Field != FieldKeep || chosen[i-1].Field != FieldTrip || cols[i].index != cols[i-1].index+1 {
			continue
		}
		next := chosenIndex(chosen[i:], FieldTrip)
		n := chosen[i-1].N + 1
		if next >= 0 && chosen[i+next].N == n+next && (cols[i].ev.filled == 0 || cols[i].ev.trip > 0.8) ||
			next < 0 && len(cols[i].cands) == 0 && cols[i].ev.filled > 0 && cols[i].ev.trip > 0.9 && cols[i].heading == "" {
			setColumn(&chosen[i], FieldTrip, n, 0.65, "stands among the trips")
		}
	}
	// A first trip without a heading, right before trip 3.
	if i := chosenIndex(chosen, FieldTrip); i > 0 && chosen[i].N == 3 && chosen[i-1].Field == FieldKeep && cols[i-1].ev.trip > 0.8 {
		setColumn(&chosen[i-1], FieldTrip, 2, 0.6, "stands before trip 3")
	}
	if chosenIndex(chosen, FieldTrip) >= 0 || chosenIndex(chosen, FieldTrips) >= 0 {
		return
	}
	start, size := -1, 0
	for i, n := 0, 0; i < len(chosen); i++ {
		// Marks can look like trips when all are "1": points above 1 tell.
		if chosen[i].Field == FieldKeep && cols[i].heading == "" && (cols[i].ev.trip > 0.9 && (cols[i].ev.max > 1 || n > 0) || n > 0 && cols[i].ev.filled == 0) {
			if n++; n > size {
				start, size = i-n+1, n
			}
		} else {
			n = 0
		}
	}
	if size < 3 {
		return
	}
	for i := range size {
		setColumn(&chosen[start+i], FieldTrip, i+2, 0.5, "small numbers side by side")
	}
}

// fillJammer finds a jammer column without a heading: numbers of few skaters
// between the jam and the marks or trips.
func fillJammer(cols []headCol, chosen []Column) {
	if chosenIndex(chosen, FieldJammer) >= 0 {
		return
	}
	trip := chosenIndex(chosen, FieldTrip)
	for i, c := range cols {
		if chosen[i].Field != FieldKeep || c.heading != "" && len(c.cands) == 0 || c.ev.skater < 0.85 || c.ev.filled < 3 || trip >= 0 && i > trip && cols[i].index < cols[len(cols)-1].index && chosen[max(i-1, 0)].Field == FieldTrip {
			continue
		}
		if c.ev.rises > 0.9 || c.ev.variety < 2 || c.ev.max < 6 && c.ev.trip > 0.5 {
			continue
		}
		setColumn(&chosen[i], FieldJammer, 0, 0.5, "skaters' numbers")
		return
	}
}

// fillMarks names tick columns without a heading by the order in which score
// sheets print the marks, when the headed ones leave only one choice each.
func fillMarks(cols []headCol, chosen []Column) {
	usual := []Field{FieldLost, FieldLead, FieldCall, FieldInj, FieldNI}
	for k, f := range usual {
		if chosenIndex(chosen, f) >= 0 {
			continue
		}
		// It must stand right beside a mark that is its neighbour on paper.
		for i := range chosen {
			if chosen[i].Field != FieldKeep || len(cols[i].cands) > 0 && cols[i].cands[0].sure > 0.5 || cols[i].heading != "" || cols[i].ev.filled > 0 && cols[i].ev.mark < 0.9 {
				continue
			}
			left := k > 0 && i > 0 && chosen[i-1].Field == usual[k-1]
			right := k+1 < len(usual) && i+1 < len(chosen) && chosen[i+1].Field == usual[k+1]
			if left && right || (left || right) && cols[i].ev.filled > 0 {
				setColumn(&chosen[i], f, 0, 0.45, "tick column beside its neighbour")
				break
			}
		}
	}
}

// fillTotals finds total columns without a heading, or headed by the team alone.
func fillTotals(cols []headCol, chosen []Column) {
	for i, c := range cols {
		if chosen[i].Field != FieldKeep || c.ev.number < 0.8 || c.ev.filled < 2 {
			continue
		}
		if len(c.cands) > 0 && c.cands[0].sure > 0.6 && c.label == "" && c.side == 0 {
			continue // it means something else
		}
		if j := chosenIndex(chosen, FieldJamTotal); j >= 0 && chosenIndex(chosen, FieldGameTotal) < 0 && c.ev.runs(cols[j].ev) {
			setColumn(&chosen[i], FieldGameTotal, 0, 0.8, "adds up the points per jam")
			continue
		}
		switch {
		case c.ev.rises > 0.95 && c.ev.max > 12 && chosenIndex(chosen, FieldGameTotal) < 0:
			setColumn(&chosen[i], FieldGameTotal, 0, 0.55, "numbers that only rise")
		case chosenIndex(chosen, FieldJamTotal) < 0 && c.ev.max < 60:
			sure := 0.5
			if c.label != "" || c.side != 0 {
				sure = 0.7 // headed by the team alone
			}
			setColumn(&chosen[i], FieldJamTotal, 0, sure, "points per jam")
		}
	}
}

// settleTotals swaps jam total and running total when the cells say so, and
// makes a lone total what it is.
func settleTotals(cols []headCol, chosen []Column) {
	jam, game := chosenIndex(chosen, FieldJamTotal), chosenIndex(chosen, FieldGameTotal)
	rising := func(i int) bool {
		e := cols[i].ev
		return e.number > 0.8 && e.filled >= 4 && e.rises > 0.9 && e.max > 12
	}
	if jam >= 0 && game < 0 {
		// A lone total that adds up the trips row by row is the running one.
		if sums := tripSums(cols, chosen); cols[jam].ev.runs(sums) {
			chosen[jam].Field, chosen[jam].Certainty, chosen[jam].Reason = FieldGameTotal, 0.9, "adds up the trips"
			return
		}
	}
	switch {
	case jam >= 0 && game >= 0 && cols[game].ev.runs(cols[jam].ev):
		chosen[jam].Certainty, chosen[game].Certainty = round2(math.Max(chosen[jam].Certainty, 0.9)), round2(math.Max(chosen[game].Certainty, 0.9))
	case jam >= 0 && game >= 0 && cols[jam].ev.runs(cols[game].ev):
		chosen[jam].Field, chosen[game].Field = FieldGameTotal, FieldJamTotal
		chosen[jam].Reason, chosen[game].Reason = "adds up the points per jam", "points per jam"
	case jam >= 0 && game >= 0 && rising(jam) && !rising(game) && cols[game].ev.filled > 0:
		chosen[jam].Field, chosen[game].Field = FieldGameTotal, FieldJamTotal
		chosen[jam].Reason, chosen[game].Reason = "numbers that only rise", "points per jam"
	case jam >= 0 && game < 0 && rising(jam):
		chosen[jam].Field = FieldGameTotal
		chosen[jam].Certainty = round2(math.Min(chosen[jam].Certainty, 0.8))
		chosen[jam].Reason = "numbers that only rise"
		// "Jam | Total": the column called "Jam" beside it holds the points.
		for i, c := range cols {
			if x, ok := c.reading(FieldJamTotal); ok && chosen[i].Field == FieldKeep && x.sure >= 0.4 {
				setColumn(&chosen[i], FieldJamTotal, 0, x.sure, x.reason)
				if c.ev.filled > 0 && cols[jam].ev.runs(c.ev) {
					chosen[i].Certainty, chosen[jam].Certainty = 0.9, 0.9
				}
				break
			}
		}
	case game >= 0 && jam < 0 && !rising(game) && cols[game].ev.filled >= 4 && cols[game].ev.rises < 0.8 && cols[game].ev.number > 0.8:
		chosen[game].Field = FieldJamTotal
		chosen[game].Certainty = round2(math.Min(chosen[game].Certainty, 0.7))
		chosen[game].Reason = "points per jam"
	}
}

// tripSums is the column that the trips add up to, row by row.
func tripSums(cols []headCol, chosen []Column) evidence {
	var e evidence
	for i, c := range chosen {
		if c.Field != FieldTrip {
			continue
		}
		for len(e.values) < len(cols[i].ev.values) {
			e.values = append(e.values, 0)
		}
		for r, v := range cols[i].ev.values {
			e.values[r] += max(v, 0)
		}
	}
	return e
}

// baseTrips settles whether the columns count the initial trip as 1 (the sheet's
// way: the first scoring trip is 2) or count scoring trips from 1.
func baseTrips(cols []headCol, chosen []Column) {
	first, two := -1, false
	for i, c := range chosen {
		if c.Field == FieldTrip && c.N == 1 {
			first = i
		}
		if c.Field == FieldTrip && c.N == 2 {
			two = true
		}
	}
	if first < 0 || !two && chosenIndex(chosen, FieldNI) < 0 && cols[first].ev.filled == 0 {
		return
	}
	if p := plain(cols[first].heading); p != "" && (containsWord(p, "initial") || containsWord(p, "inicial") || containsWord(p, "initiale")) {
		return
	}
	// Points in trip 1 in more than a few jams: it is the first scoring trip.
	points := float64(cols[first].ev.filled) * cols[first].ev.trip
	if cols[first].ev.max < 2 || points < 3 || points < 0.15*float64(cols[first].ev.rows) {
		return
	}
	for i := range chosen {
		if chosen[i].Field == FieldTrip {
			chosen[i].N++
			chosen[i].Certainty = round2(chosen[i].Certainty * 0.95)
			chosen[i].Reason += ", counted from the first scoring trip"
		}
	}
}

func containsWord(s, w string) bool {
	for i := 0; i+len(w) <= len(s); i++ {
		if s[i:i+len(w)] == w {
			return true
		}
	}
	return false
}
