package sound

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

const (
	metresPerFoot = 0.3048
	soundSpeed    = 343.0 // m/s at 20 degrees
	// nearM is the distance at which the direct sound has gain 1.
	nearM = 20.0
)

// path is how sound comes from a place on the floor to the microphone.
type path struct {
	delay       float64 // s
	gain        float64 // of the direct sound
	left, right float64
}

// pathFrom: lips and loudspeakers are taken as z feet high.
func (m *Mic) pathFrom(x, y, z float64) path {
	dx, dy := x-m.X, y-m.Y
	d := max(1, metresPerFoot*math.Sqrt(dx*dx+dy*dy+sq(z-m.Z)))
	side := 0.4 * math.Sin(math.Atan2(dx, dy)-m.Facing)
	return path{delay: d / soundSpeed, gain: nearM / d, left: 1 - side, right: 1 + side}
}

// band of officials, their whistles and loudness.
type crew struct {
	family Family
	seed   uint64
	rate   int
	spread float64
	known  map[simulate.OfficialRole]member
}

type member struct {
	instrument *instrument
	loud       float64 // amplitude
}

func (c *crew) member(role simulate.OfficialRole) member {
	m, ok := c.known[role]
	if !ok {
		r := random(c.seed, "official "+string(role), 0)
		m = member{newInstrument(c.family, r, c.rate), fromDB(c.spread * r.NormFloat64())}
		c.known[role] = m
	}
	return m
}

// blastSet is the officials' blasts of a stream with their truth.
type blastSet struct {
	list  []*placed
	truth Truth
	gains []float64 // dB of the direct sound of each blast of list
}

func (o Options) blasts(s Schedule, clk clock) blastSet {
	c := &crew{family: o.Family, seed: o.Seed, rate: o.Rate, spread: o.Spread, known: map[simulate.OfficialRole]member{}}
	var set blastSet
	end := o.Start + o.Length
	series := 0
	for i, w := range s.withEchoes(o) {
		if w.End()+time.Second < o.Start || w.At() > end {
			continue
		}
		r := random(o.Seed, "series", int64(w.At())^int64(i)<<48)
		if o.skips(w, r) {
			set.truth.Missing = append(set.truth.Missing, Series{
				At: seconds(clk.film(w.At().Seconds())), Official: w.By, Kind: w.Kind, Period: w.Period, Jam: w.Jam,
			})
			continue
		}
		set.add(o, c, w, series, r, clk)
		series++
	}
	set.sort()
	return set
}

func (o Options) skips(w simulate.Whistle, r *rand.Rand) bool {
	chance := o.Missing
	if w.Kind == simulate.WhistleJamStart {
		chance = o.MissingStarts
	}
	return r.Float64() < chance
}

func (set *blastSet) add(o Options, c *crew, w simulate.Whistle, series int, r *rand.Rand, clk clock) {
	m := c.member(w.By)
	p := o.Mic.pathFrom(w.Pos.X, w.Pos.Y, 5)
	for k, blast := range w.Blasts {
		b := blow{
			instrument: m.instrument,
			length:     blast.Duration().Seconds() * clk.speed,
			rolling:    w.Kind == simulate.WhistleTimeoutEnd || w.Kind == simulate.WhistlePeriodEnd,
			effort:     within(r, 0, 0.02),
			glide:      within(r, -0.012, 0.008),
			vary:       rand.New(rand.NewPCG(r.Uint64(), 1)),
		}
		loud := m.loud * fromDB(0.8*r.NormFloat64())
		start := int64(math.Ceil((clk.film(blast.Start.Seconds()) + p.delay) * clk.rate))
		pl := &placed{
			start: start, end: start + int64(b.length*clk.rate),
			make: func() sounding { return newVoice(b, o.Rate) },
			left: loud * p.gain * p.left, right: loud * p.gain * p.right, send: loud,
		}
		set.list = append(set.list, pl)
		level := toDB(loud * p.gain)
		set.gains = append(set.gains, level)
		set.truth.Blasts = append(set.truth.Blasts, Blast{
			Onset:  seconds(float64(pl.start) / clk.rate),
			Offset: seconds(float64(pl.end) / clk.rate),
			Blown:  seconds(clk.film(blast.Start.Seconds())),
			Hz:     m.instrument.pitch() * (1 + b.effort), Official: w.By, Kind: w.Kind, Model: m.instrument.model,
			LevelDB: level, Series: series, InSeries: k, Echo: w.Echo, Period: w.Period, Jam: w.Jam,
		})
	}
}

// sort orders blasts by onset and makes levels relative to their mean.
func (set *blastSet) sort() {
	slices.SortStableFunc(set.list, func(a, b *placed) int { return int(min(1, max(-1, a.start-b.start))) })
	slices.SortStableFunc(set.truth.Blasts, func(a, b Blast) int { return int(min(1, max(-1, a.Onset-b.Onset))) })
	mean := 0.0
	for _, g := range set.gains {
		mean += g / float64(len(set.gains))
	}
	for i := range set.truth.Blasts {
		set.truth.Blasts[i].LevelDB -= mean
	}
}

// breath is the least time between two series of one official (common practice,
// no source).
const breath = 200 * time.Millisecond

// withEchoes adds the repeats that o asks for. An official has one whistle: who
// blows a series at the time, perhaps an echo that is in the schedule already,
// does not begin another.
func (s Schedule) withEchoes(o Options) []simulate.Whistle {
	if o.Echoes == 0 {
		return s.Whistles
	}
	out := slices.Clone(s.Whistles)
	for i, w := range s.Whistles {
		if w.Echo || len(w.Blasts) != 4 {
			continue
		}
		r := random(o.Seed, "echoes", int64(w.At())^int64(i)<<48)
		for _, role := range simulate.Crew[:8] {
			if r.Float64() >= o.Echoes || role == w.By {
				continue
			}
			e := simulate.Whistle{
				Kind: w.Kind, By: role, Echo: true, Period: w.Period, Jam: w.Jam,
				Pos: simulate.Point{X: w.Pos.X + within(r, -25, 25), Y: w.Pos.Y + within(r, -15, 15)},
			}
			// Late by a reaction or more; lengths and gaps are common practice.
			at := w.At() + seconds(within(r, 0.35, 1.8))
			for range 4 {
				length := seconds(within(r, 0.15, 0.32))
				e.Blasts = append(e.Blasts, timeline.TimeRange{Start: at, End: at + length})
				at += length + seconds(within(r, 0.08, 0.2))
			}
			if !busy(out, e) {
				out = append(out, e)
			}
		}
	}
	return out
}

// busy reports whether the official of e blows something else meanwhile.
func busy(list []simulate.Whistle, e simulate.Whistle) bool {
	return slices.ContainsFunc(list, func(w simulate.Whistle) bool {
		return w.By == e.By && w.At() < e.End()+breath && w.End()+breath > e.At()
	})
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }
