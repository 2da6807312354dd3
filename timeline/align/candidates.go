package align

import (
	"math"
	"sort"
	"time"
)

// Candidate is a series that may be the call of a penalty.
type Candidate struct {
	Series int // index into the film's Series
	At     time.Duration
	// Chance that it is the call of one given penalty of the jam, all penalties
	// alike: 0..1; the chances of a jam add up to at most one each.
	Chance float64
}

// CalledAfter is how long behind a jam's end a penalty of the jam may still be
// called (common practice, no source).
const CalledAfter = 4 * time.Second

// Candidates ranks the long blasts of a placed jam as calls of its penalties,
// likeliest first. Count is how many penalties the sheet has in the jam, at
// least 1. None are returned for a jam that is not on the film.
func Candidates(film Film, jam Placed, count int) []Candidate {
	if jam.Footage == "" || jam.Footage != film.Footage {
		return nil
	}
	count = max(count, 1)
	ear := newEar([]Film{film})
	var out []Candidate
	for i, s := range film.Series {
		if s.Start <= jam.Start || i == jam.StartSeries || i == jam.EndSeries && jam.EndFootage == jam.Footage {
			continue
		}
		late := secs(s.Start - jam.End)
		if late > secs(CalledAfter) {
			continue
		}
		x := ear.listenTo(s)
		w := math.Exp(x[SigPenalty])
		// What it is not: the lead's pair, an echo of the end, nothing at all.
		other := 1 + 0.3*math.Exp(x[SigLead])
		if late > -1 {
			other += 3 * math.Exp(x[SigEnd])
			w *= math.Exp(-max(late, 0) / 2)
		}
		out = append(out, Candidate{Series: i, At: s.Start, Chance: w / (w + other)})
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Chance > out[b].Chance })
	// Each penalty was one call: the chances share what there is.
	sum := 0.0
	for _, c := range out {
		sum += c.Chance
	}
	for i := range out {
		share := max(sum, float64(count))
		out[i].Chance = min(out[i].Chance*float64(count)/share/float64(count), 1)
	}
	return trim(out)
}

// trim drops what is hardly worth a look.
func trim(list []Candidate) []Candidate {
	for i, c := range list {
		if c.Chance < 0.02 || i >= 12 {
			return list[:i]
		}
	}
	return list
}
