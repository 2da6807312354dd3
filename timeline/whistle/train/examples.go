package train

import (
	"math"
	"math/rand/v2"
	"slices"

	"whistlecut/timeline/whistle"
)

// Example is one hump with what the judge should say of it. A negative target
// does not count.
type Example struct {
	In        [whistle.Inputs]float32
	On, Onset float32
}

// onsetWidth is the spread of the target round a beginning, in seconds.
const onsetWidth = 0.011

// Examples listens to a scene and labels every hump. Of the humps far from any
// blast it keeps the share keep, of the middles of blasts keepOn.
func (sc *Scene) Examples(r *rand.Rand, keep, keepOn float64) []Example {
	var out []Example
	l := whistle.New(whistle.Options{Look: func(step int, hz, _ float64, in []float32) {
		on, onset := sc.label(float64(step)*0.01, hz)
		if onset < 0.02 && (on == 0 && !chance(r, keep) || on == 1 && !chance(r, keepOn)) {
			return
		}
		e := Example{On: on, Onset: onset}
		copy(e.In[:], in)
		out = append(out, e)
	}})
	_ = l.Write(sc.Samples)
	_, _ = l.Close()
	return slices.Clip(slices.Clone(out))
}

// label is what a hump at time t and pitch hz stands for.
func (sc *Scene) label(t, hz float64) (on, onset float32) {
	for _, b := range sc.Blasts {
		if t < b.On-0.05 || t > b.Off+0.03 || hz < b.Low*0.96 && t > b.On+0.07 || hz < b.Low*0.86 || hz > b.Hi*1.03 {
			continue
		}
		d := (t - b.On) / onsetWidth
		onset = max(onset, float32(math.Exp(-d*d/2)))
		switch {
		case t >= b.On+0.012 && t <= b.Off-0.012:
			on = 1
		case on == 0 && t > b.On-0.012 && t < b.Off+0.012:
			on = -1
		}
	}
	return on, onset
}
