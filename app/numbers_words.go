package app

import (
	"fmt"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// PointsText is points as people read them: "not known" instead of bounds that
// would pass for a result.
func PointsText(p numbers.Points) string {
	if !p.Known() {
		return "not known"
	}
	return p.Range.String()
}

// MeanText is a mean over jams with its interval: "+1.5 (-3.0 to +6.0)".
func MeanText(m numbers.Mean) string {
	switch {
	case m.N == 0:
		return "-"
	case !m.HasInterval:
		return fmt.Sprintf("%+.1f", m.Mean)
	}
	return fmt.Sprintf("%+.1f (%+.1f to %+.1f)", m.Mean, m.Low, m.High)
}

// ShareText is a share in per cent with what it is out of: "4 of 7, 57 %".
func ShareText(s numbers.Share) string {
	v, ok := s.Value()
	if !ok {
		return "-"
	}
	n := timeline.Range{Low: s.Low, High: s.High}
	return fmt.Sprintf("%s of %d, %.0f %%", n, s.Of, 100*v)
}

// PerTripText is points per scoring trip.
func PerTripText(m numbers.Jamming) string {
	low, high, ok := m.PerTrip()
	switch {
	case !ok:
		return "-"
	case low == high:
		return fmt.Sprintf("%.2f", low)
	}
	return fmt.Sprintf("%.2f to %.2f", low, high)
}

// GameClock writes a period clock as venues show it: minutes and seconds.
func GameClock(d time.Duration, known bool) string {
	if !known {
		return "-"
	}
	s := int(d.Round(time.Second) / time.Second)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// NoteText is a caution as a sentence.
func NoteText(n numbers.Note) string {
	switch n.Key {
	case numbers.NoteSmall:
		return fmt.Sprintf("Only %d jams fielded: under %d, comparisons are mostly chance.", n.N, numbers.SmallSample)
	case numbers.NoteUnlogged:
		return fmt.Sprintf("Nobody logged the points of %d of the jams; they are left out.", n.N)
	case numbers.NoteNoLineups:
		return fmt.Sprintf("%d jams have no line-up of the team; who was fielded in them is not known.", n.N)
	case numbers.NoteNoTimes:
		return "Some trips have no time, so points while sitting or on the track are not known."
	case numbers.NoteTripEnds:
		return "Points while sitting and on the track are counted at the end of each trip; passes are not logged."
	case numbers.NoteRanges:
		return "Not every trip was seen, so some points are ranges."
	case numbers.NoteMissing:
		return fmt.Sprintf("%d of the bouts do not know her.", n.N)
	case numbers.NoteCopies:
		return fmt.Sprintf("Bouts that look like copies of another one here, and count again: %d.", n.N)
	case numbers.NoteBox:
		return fmt.Sprintf("The time in the box is not known of %d stays.", n.N)
	}
	return string(n.Key)
}
