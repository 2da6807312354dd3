package sound

import (
	"math"
	"slices"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// Schedule is what happens in the hall, in game time.
type Schedule struct {
	Whistles []simulate.Whistle // in any order
	Jams     []timeline.TimeRange
	Length   time.Duration
}

// NewSchedule takes a game's whistles and finds the jams in them: from a start
// to the next series that ends a jam.
func NewSchedule(whistles []simulate.Whistle, length time.Duration) Schedule {
	s := Schedule{Whistles: slices.Clone(whistles), Length: length}
	slices.SortStableFunc(s.Whistles, func(a, b simulate.Whistle) int {
		return int(min(1, max(-1, a.At()-b.At())))
	})
	var open *time.Duration
	for _, w := range s.Whistles {
		switch w.Kind {
		case simulate.WhistleJamStart:
			at := w.At()
			open = &at
		case simulate.WhistleJamEnd, simulate.WhistleTimeout, simulate.WhistlePeriodEnd:
			if open != nil {
				s.Jams = append(s.Jams, timeline.TimeRange{Start: *open, End: w.At()})
				open = nil
			}
		}
	}
	return s
}

// mood is how loud crowd and skaters are over the bout, as amplitude factors.
type mood struct {
	cheers []cheer
	jams   []timeline.TimeRange
	scale  float64 // makes the crowd's mean square 1
	flat   bool
}

// cheer swells up at a moment of the game and dies away.
type cheer struct {
	at, size, fade float64 // s, amplitude, s
}

func newMood(s Schedule, from, to time.Duration) *mood {
	m := &mood{jams: s.Jams, scale: 1}
	for _, w := range s.Whistles {
		if w.Echo {
			continue
		}
		at := w.At().Seconds()
		switch w.Kind {
		case simulate.WhistleLead:
			m.cheers = append(m.cheers, cheer{at + 0.4, 0.8, 2})
		case simulate.WhistleJamEnd:
			m.cheers = append(m.cheers, cheer{at + 0.2, 1.3, 4})
		case simulate.WhistlePeriodEnd:
			m.cheers = append(m.cheers, cheer{at + 0.3, 2, 7})
		}
	}
	slices.SortFunc(m.cheers, func(a, b cheer) int {
		return int(math.Copysign(1, a.at-b.at))
	})
	if p := m.meanSquare(from, to, m.crowd); p > 0 {
		m.scale = 1 / math.Sqrt(p)
	}
	return m
}

// flat is a mood that never changes: crowd and skates at amplitude 1.
func flat() *mood { return &mood{flat: true} }

// meanSquare is the mean power of an amplitude over a stretch of game time.
func (m *mood) meanSquare(from, to time.Duration, amplitude func(t float64) float64) float64 {
	sum, n := 0.0, 0
	for t := from.Seconds(); t < to.Seconds(); t += 0.25 {
		x := amplitude(t)
		sum += x * x
		n++
	}
	return sum / float64(max(1, n))
}

// crowd is the crowd's amplitude at a game time in seconds.
func (m *mood) crowd(t float64) float64 {
	if m.flat {
		return 1
	}
	level := 0.8
	if i, ok := m.jam(t); ok {
		// A jam grows louder as it goes on.
		level = 0.95 + 0.25*min(1, (t-m.jams[i].Start.Seconds())/60)
	}
	// Cheers older than five fades don't count.
	from, _ := slices.BinarySearchFunc(m.cheers, t-40, func(c cheer, t float64) int {
		return int(math.Copysign(1, c.at-t))
	})
	for _, c := range m.cheers[from:] {
		dt := t - c.at
		if dt < 0 {
			break
		}
		level += c.size * math.Exp(-dt/c.fade) * (1 - math.Exp(-dt/0.35))
	}
	return level * m.scale
}

func (m *mood) jam(t float64) (int, bool) {
	d := time.Duration(t * float64(time.Second))
	i, found := slices.BinarySearchFunc(m.jams, d, func(r timeline.TimeRange, t time.Duration) int {
		return int(min(1, max(-1, r.Start-t)))
	})
	if found {
		return i, true
	}
	i--
	return i, i >= 0 && d < m.jams[i].End
}

// skating is how busy the skates are, 0..1, with a second to start and stop.
func (m *mood) skating(t float64) float64 {
	if m.flat {
		return 1
	}
	const idle = 0.25
	i, in := m.jam(t)
	switch {
	case in:
		return idle + (1-idle)*min(1, t-m.jams[i].Start.Seconds())
	case i >= 0:
		return idle + (1-idle)*max(0, 1-(t-m.jams[i].End.Seconds())/1.5)
	}
	return idle
}
