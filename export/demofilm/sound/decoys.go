package sound

import (
	"math"
	"math/rand/v2"
	"slices"
)

// decoySet makes sounds that a careless listener takes for officials' blasts,
// minute by minute of game time.
type decoySet struct {
	list  []*placed
	truth []Decoy
	clk   clock
	o     Options
}

func (o Options) decoys(clk clock) decoySet {
	set := decoySet{clk: clk, o: o}
	first := int64(math.Floor(o.Start.Seconds()/60)) - 1
	last := int64(math.Ceil((o.Start + o.Length).Seconds() / 60))
	for minute := max(0, first); minute < last; minute++ {
		set.spread("fingers", o.Fingers, minute, set.fingers)
		set.spread("squeak", o.Squeaks, minute, set.squeak)
		set.spread("neighbour", o.Neighbour, minute, set.neighbour)
	}
	slices.SortStableFunc(set.list, func(a, b *placed) int { return int(min(1, max(-1, a.start-b.start))) })
	slices.SortStableFunc(set.truth, func(a, b Decoy) int { return int(min(1, max(-1, a.Onset-b.Onset))) })
	return set
}

// spread places a Poisson number of sounds in a minute.
func (d *decoySet) spread(what string, rate float64, minute int64, put func(r *rand.Rand, at float64)) {
	if rate <= 0 {
		return
	}
	r := random(d.o.Seed, what, minute)
	for t := r.ExpFloat64() / rate; t < 1; t += r.ExpFloat64() / rate {
		put(rand.New(rand.NewPCG(r.Uint64(), r.Uint64())), (float64(minute)+t)*60)
	}
}

// put adds one decoy that starts at game time at and lasts length seconds.
func (d *decoySet) put(what string, at, length, hz, loud float64, p path, send float64, make func() sounding) {
	start := int64(math.Ceil((d.clk.film(at) + p.delay) * d.clk.rate))
	pl := &placed{
		start: start, end: start + int64(length*d.clk.rate), make: make,
		left: loud * p.gain * p.left, right: loud * p.gain * p.right, send: loud * send,
	}
	end := d.clk.sample((d.o.Start + d.o.Length).Seconds())
	if pl.end <= 0 || float64(pl.start) >= end {
		return
	}
	d.list = append(d.list, pl)
	d.truth = append(d.truth, Decoy{
		Onset: seconds(float64(pl.start) / d.clk.rate), Offset: seconds(float64(pl.end) / d.clk.rate), Hz: hz, What: what,
	})
}

// fingers: one to three whistles from a seat on one of the stands.
func (d *decoySet) fingers(r *rand.Rand, at float64) {
	in := newFingers(r, d.o.Rate)
	side := math.Copysign(1, r.Float64()-0.5)
	p := d.o.Mic.pathFrom(within(r, -80, 80), side*within(r, 52, 80), 8)
	p.gain = min(p.gain, 2.5) // nobody whistles into the microphone
	loud := fromDB(within(r, -8, 2))
	for range 1 + r.IntN(3) {
		b := blow{instrument: in, length: within(r, 0.15, 0.7), glide: within(r, -0.35, 0.35), vary: rand.New(rand.NewPCG(r.Uint64(), 2))}
		d.put("fingers", at, b.length, in.pitch(), loud, p, 1, func() sounding { return newVoice(b, d.o.Rate) })
		at += b.length + within(r, 0.05, 0.4)
	}
}

func (d *decoySet) squeak(r *rand.Rand, at float64) {
	s := newSqueak(r, d.o.Rate)
	p := d.o.Mic.pathFrom(within(r, -40, 40), within(r, -26, 26), 0.5)
	d.put("squeak", at, s.length, s.hz, fromDB(within(r, -14, -3)), p, 0.7, func() sounding { return s })
}

// neighbour: a series on the track next door, heard through the hall alone.
func (d *decoySet) neighbour(r *rand.Rand, at float64) {
	in := newInstrument(d.o.Family, r, d.o.Rate)
	n := []int{1, 1, 2, 4}[r.IntN(4)]
	loud := fromDB(within(r, -16, -8))
	p := d.o.Mic.pathFrom(within(r, -60, 60), 190, 5)
	for range n {
		b := blow{instrument: in, length: within(r, 0.15, 0.4), vary: rand.New(rand.NewPCG(r.Uint64(), 3))}
		d.put("neighbour", at, b.length, in.pitch(), loud, p, 1, func() sounding { return newVoice(b, d.o.Rate) })
		at += b.length + within(r, 0.08, 0.25)
	}
}
