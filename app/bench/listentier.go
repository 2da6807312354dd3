package bench

import (
	"errors"
	"fmt"
	"io"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/simulate"
	"whistlecut/timeline/whistle"
)

// Tier is one graded condition of listening: how a simulated bout sounds.
type Tier struct {
	Name string
	// Aim is the F1 of blasts to be reached; 0 where only honesty counts.
	Aim float64
	// Sound returns the conditions of a seed.
	Sound func(f sound.Family, seed uint64) sound.Options
}

// Tiers are the graded conditions, from a good recording to a hopeless one.
func Tiers() []Tier {
	graded := func(t sound.Tier) func(sound.Family, uint64) sound.Options {
		return func(f sound.Family, seed uint64) sound.Options { return sound.Graded(t, f, seed) }
	}
	return []Tier{
		{"easy", 0.92, graded(sound.Easy)},
		{"middle", 0.80, graded(sound.Middle)},
		{"hard", 0.55, graded(sound.Hard)},
		{"hopeless", 0, graded(sound.Hopeless)},
	}
}

// Take is one simulated bout heard under one tier.
type Take struct {
	Tier   Tier
	Seed   uint64
	Game   *simulate.Game
	Truth  sound.Truth
	Length time.Duration
	// Samples is the sound at the listener's rate, mono.
	Samples []float32
}

// Render simulates a bout of some jams and makes its sound. The sound of a jam
// and its break is about two minutes.
func (t Tier) Render(f sound.Family, seed uint64, jams int) (*Take, error) {
	g := simulate.Play(seed, simulate.Options{Periods: 1, Jams: jams, LeadIn: 10 * time.Second})
	ws := g.Whistles()
	length := 10 * time.Second
	if len(ws) > 0 {
		length += ws[len(ws)-1].End()
	}
	o := t.Sound(f, seed)
	o.Rate = whistle.Rate
	st, err := sound.New(sound.NewSchedule(ws, length), o)
	if err != nil {
		return nil, fmt.Errorf("cannot make the sound of tier %s, seed %d: %w", t.Name, seed, err)
	}
	take := &Take{Tier: t, Seed: seed, Game: g, Truth: st.Truth(), Length: st.Duration()}
	take.Samples = make([]float32, 0, int(st.Duration().Seconds()*whistle.Rate)+whistle.Rate)
	buf := make([]float32, 8192)
	for {
		n, err := st.Read(buf)
		take.Samples = append(take.Samples, buf[:n]...)
		if errors.Is(err, io.EOF) {
			return take, nil
		}
		if err != nil {
			return nil, fmt.Errorf("cannot make the sound of tier %s, seed %d: %w", t.Name, seed, err)
		}
	}
}

// Hear listens to the take from a time on, as the program does before it places
// jams: less likely blasts, too.
func (t *Take) Hear(from time.Duration) (whistle.Result, error) {
	l := whistle.New(whistle.Options{Least: leastForJams})
	if err := l.Write(t.Samples[min(int(from.Seconds()*whistle.Rate), len(t.Samples)):]); err != nil {
		return whistle.Result{}, err
	}
	return l.Close()
}
