package sound

import (
	"math"
)

// part is one source of the background with its share of the power.
type part struct {
	name   string
	share  float64
	source source
	set    func(gain float64)
}

// background makes the sources that o asks for, at gain 1.
func (o Options) background(clk clock, m *mood) []part {
	var parts []part
	add := func(name string, share float64, s source, gain *float64) {
		if share > 1e-9 {
			parts = append(parts, part{name, share, s, func(g float64) { *gain = g }})
		}
	}
	c := newCrowd(clk, m, o.Channels, o.Seed, o.Rate)
	add("crowd", 1-o.Music-o.Announcer-o.Skates, c, &c.gain)
	mu := newMusic(clk, o.Seed, o.Rate)
	add("music", o.Music, mu, &mu.gain)
	an := newAnnouncer(clk, o.Seed, o.Rate)
	add("announcer", o.Announcer, an, &an.gain)
	sk := newSkates(clk, m, o.Seed, o.Rate)
	add("skates", o.Skates, sk, &sk.gain)
	return parts
}

// levels are the gains that make the sound what the options ask for.
type levels struct {
	parts      map[string]float64 // gain that brings a part to its share of power 1
	background float64
	record     float64
}

// power is a mean power in the whistle band and over all of the sound.
type power struct{ band, all float64 }

// measure renders pieces of every part alone.
func (s *Stream) measure(o Options, set blastSet, m *mood) levels {
	l := levels{parts: map[string]float64{}}
	all := 0.0
	for _, p := range o.background(clock{rate: float64(o.Rate), speed: 1}, flat()) {
		var got power
		switch p.name {
		case "crowd":
			got = s.listen(o, p.name, []float64{0}, 8)
		case "skates":
			got = s.listen(o, p.name, []float64{0}, 8)
			busy := m.meanSquare(o.Start, o.Start+o.Length, m.skating)
			got.band, got.all = got.band*busy, got.all*busy
		default:
			got = s.listen(o, p.name, spots(o), cell)
		}
		gain := math.Sqrt(p.share / got.band)
		l.parts[p.name] = gain
		all += gain * gain * got.all
	}
	blast := s.meanBlast(set, o.Rate)
	l.background = math.Sqrt(blast) * fromDB(-o.Signal)
	// Headroom: a mean blast peaks well below full scale, and so does the noise.
	peak := math.Sqrt(2*blast) * 1.3
	noise := math.Sqrt(all) * l.background
	l.record = min(0.4/peak, 0.11/noise)
	if o.Clip > 0 {
		l.record = fromDB(o.Clip) / math.Sqrt(2*blast)
	}
	return l
}

// spots are up to four starts of pieces spread over the stream, in game time.
func spots(o Options) []float64 {
	first := math.Floor(o.Start.Seconds() / cell)
	n := max(1, math.Ceil((o.Start+o.Length).Seconds()/cell)-first)
	var at []float64
	for k := range min(4, int(n)) {
		at = append(at, cell*(first+math.Floor((float64(k)+0.5)*n/min(4, n))))
	}
	return at
}

// listen measures one part at gain 1 over some seconds from each spot, in the
// room.
func (s *Stream) listen(o Options, name string, at []float64, length float64) power {
	var sum power
	n := 0
	for _, start := range at {
		clk := clock{rate: float64(o.Rate), start: start, speed: 1}
		var src source
		for _, p := range o.background(clk, flat()) {
			if p.name == name {
				src = p.source
			}
		}
		bands := make([]bandFilter, o.Channels)
		for ch := range bands {
			bands[ch] = newBandFilter(o.Rate)
		}
		s.quiet()
		for i := 0; float64(i) < length*clk.rate; i += blockSize {
			s.block.at = int64(i)
			s.block.clear()
			src.fill(s.block)
			s.reverberate()
			for ch, c := range s.block.direct {
				for _, x := range c {
					y := bands[ch].next(x)
					sum.band += y * y
					sum.all += x * x
					n++
				}
			}
		}
	}
	s.quiet()
	return power{max(1e-20, sum.band/float64(n)), max(1e-20, sum.all/float64(n))}
}

func (s *Stream) quiet() {
	if s.room != nil {
		s.room.reset()
	}
}

func (s *Stream) reverberate() {
	if s.room != nil {
		for i := range s.block.send {
			s.block.send[i] *= s.roomLevel
		}
		s.room.process(s.block.send, s.block.direct)
	}
}

// meanBlast is the geometric mean of the blasts' power in the whistle band from
// onset to offset, each alone in the room; of up to 24 spread over the stream.
func (s *Stream) meanBlast(set blastSet, rate int) float64 {
	const most = 24
	if len(set.list) == 0 {
		return 1
	}
	n := min(most, len(set.list))
	sum := 0.0
	for k := range n {
		p := *set.list[k*len(set.list)/n]
		p.start, p.end, p.voice = 0, p.end-p.start, nil
		e := events{list: []*placed{&p}}
		s.quiet()
		bands := make([]bandFilter, s.channels)
		for ch := range bands {
			bands[ch] = newBandFilter(rate)
		}
		energy := 0.0
		for at := int64(0); at < p.end; at += blockSize {
			s.block.at = at
			s.block.clear()
			e.fill(s.block)
			s.reverberate()
			for ch, c := range s.block.direct {
				for _, x := range c[:min(blockSize, p.end-at)] {
					y := bands[ch].next(x)
					energy += y * y
				}
			}
		}
		sum += math.Log(max(1e-20, energy/float64(p.end)/float64(s.channels)))
	}
	s.quiet()
	return math.Exp(sum / float64(n))
}
