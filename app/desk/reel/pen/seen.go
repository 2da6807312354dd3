package pen

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// frameSlack is how far film time may be from a drawing's instant: less than half
// a frame at 30 a second, so that only its own frame shows it.
const frameSlack = 16 * time.Millisecond

// Seen lists the drawings on a footage file that are seen at a film time, the
// first drawn first. frozen says that the picture stands still: only then a
// drawing of no length is seen, on its own frame.
func Seen(f timeline.Facts, footage timeline.ID, film time.Duration, frozen bool) []timeline.Tag {
	return where(f, footage, func(from, to time.Duration) bool {
		if to <= from {
			return frozen && film >= from-frameSlack && film <= from+frameSlack
		}
		return film >= from && film < to
	})
}

// Within lists the drawings that a stretch of film shows, in order of time.
func Within(f timeline.Facts, footage timeline.ID, r timeline.TimeRange) []timeline.Tag {
	out := where(f, footage, func(from, to time.Duration) bool { return from < r.End && to >= r.Start })
	slices.SortStableFunc(out, func(a, b timeline.Tag) int { return cmp.Compare(a.Place.Film, b.Place.Film) })
	return out
}

func where(f timeline.Facts, footage timeline.ID, seen func(from, to time.Duration) bool) []timeline.Tag {
	var out []timeline.Tag
	for _, t := range timeline.SortTags(f.Tags) { // as an exported film paints them
		if t.Drawing != nil && t.Place.Footage == footage && seen(t.Place.Film, t.Drawing.End.Film) {
			out = append(out, t)
		}
	}
	return out
}

// Drawings are the drawings of tags.
func Drawings(tags []timeline.Tag) []timeline.Drawing {
	out := make([]timeline.Drawing, 0, len(tags))
	for _, t := range tags {
		out = append(out, *t.Drawing)
	}
	return out
}

// NextNumber is the number of the next marker: one more than the highest among
// the drawings.
func NextNumber(list []timeline.Drawing) int {
	n := 0
	for _, d := range list {
		n = max(n, d.Number)
	}
	return n + 1
}
