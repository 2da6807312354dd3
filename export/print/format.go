package print

import (
	"fmt"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// clock writes minutes and seconds.
func clock(d time.Duration) string {
	s := int(d.Round(time.Second) / time.Second)
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// rng writes a range, a sure one as one number.
func (w words) rng(r timeline.Range) string {
	if r.Sure() {
		return fmt.Sprint(r.Low)
	}
	return fmt.Sprintf("%d–%d", r.Low, r.High)
}

// points writes points, or that they are not known.
func (w words) points(p numbers.Points) string {
	if !p.Known() {
		return w.t("not known")
	}
	return w.rng(p.Range)
}

// signed writes a number with its sign.
func signed(v float64) string {
	s := fmt.Sprintf("%+.1f", v)
	if s == "-0.0" || s == "+0.0" {
		return "0.0"
	}
	return s
}

// mean writes a mean per jam with its interval; one that rests on few jams is
// starred.
func (w words) mean(m numbers.Mean) string {
	switch {
	case m.N == 0:
		return "–"
	case !m.HasInterval:
		return signed(m.Mean) + " *"
	}
	s := fmt.Sprintf("%s (%s … %s)", signed(m.Mean), signed(m.Low), signed(m.High))
	if m.Small {
		s += " *"
	}
	return s
}

// share writes "4/7, 57 %".
func (w words) share(s numbers.Share, known bool) string {
	v, ok := s.Value()
	switch {
	case !known:
		return w.t("not known")
	case !ok:
		return "–"
	}
	return fmt.Sprintf("%s/%d, %.0f %%", w.rng(timeline.Range{Low: s.Low, High: s.High}), s.Of, 100*v)
}

// perTrip writes points per scoring trip.
func (w words) perTrip(m numbers.Jamming) string {
	low, high, ok := m.PerTrip()
	switch {
	case !ok:
		return "–"
	case low == high:
		return fmt.Sprintf("%.2f", low)
	}
	return fmt.Sprintf("%.2f–%.2f", low, high)
}

// jam is a jam as the paperwork counts it.
func jam(period, number int) string { return fmt.Sprintf("%d.%d", period, number) }

// team is a team's name, or its side.
func (w words) team(name string, s timeline.Side) string {
	if name != "" {
		return name
	}
	return w.t(s.String())
}

// basis says by what points were counted.
func (w words) basis(b numbers.Basis) string { return w.t("by " + string(b)) }

// note is a caution as a sentence.
func (w words) note(n numbers.Note) string {
	text := w.t(noteTexts[n.Key])
	switch n.Key {
	case numbers.NoteSmall:
		return fmt.Sprintf(text, n.N, numbers.SmallSample)
	case numbers.NoteUnlogged, numbers.NoteNoLineups, numbers.NoteMissing, numbers.NoteBox, numbers.NoteCopies:
		return fmt.Sprintf(text, n.N)
	}
	return text
}

// noteTexts are the cautions in English; those about a number have its place.
var noteTexts = map[numbers.NoteKey]string{
	numbers.NoteSmall:     "Jams fielded: %d. Under %d, comparisons are mostly chance.",
	numbers.NoteUnlogged:  "Jams whose points nobody logged, left out: %d.",
	numbers.NoteNoLineups: "Jams without a line-up of the team, so that nobody knows who was fielded: %d.",
	numbers.NoteNoTimes:   "Some trips have no time, so points while sitting or on the track are not known.",
	numbers.NoteTripEnds:  "Points while sitting and on the track are counted at the end of each trip; passes are not logged.",
	numbers.NoteRanges:    "Not every trip was seen, so some points are ranges.",
	numbers.NoteMissing:   "Bouts that do not know her: %d.",
	numbers.NoteCopies:    "Bouts that look like copies of another one here, and count again: %d.",
	numbers.NoteBox:       "Stays whose time in the box is not known: %d.",
}
