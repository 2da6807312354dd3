package sound

import (
	"math"
	"math/rand/v2"
)

// room adds a hall's reverberation: mono in, one or two channels out, block by
// block. Its impulse response has energy 1 in the whistle band.
type room interface {
	// process adds the reverberation of in to each of out.
	process(in []float64, out [][]float64)
	// reset makes the room silent.
	reset()
}

// network is a feedback delay network: eight delay lines fed back through a
// Householder matrix, each losing what the wanted reverberation time asks for
// (Jot and Chaigne 1991). Rooms of the tuning family.
type network struct {
	lines [8]delayLine
	pre   delayLine
	taps  [2][]earlyTap
	gain  float64
}

type earlyTap struct {
	delay int
	gain  float64
}

type delayLine struct {
	buf  []float64
	at   int
	g, b float64 // absorption: y = g(1-b)x + b y'
	z    float64
}

// newNetwork builds the room; rt is the reverberation time in the whistle band
// in seconds.
func newNetwork(rt float64, rng *rand.Rand, rate int) *network {
	n := &network{gain: 1}
	// Drier halls are smaller or full of cloth: sound meets walls sooner.
	size := within(rng, 0.8, 1.25) * min(1, 0.35+0.65*rt)
	for i, base := range [8]float64{31.1, 37.3, 43.7, 50.9, 58.1, 66.7, 74.3, 83.9} {
		ms := base * size * within(rng, 0.97, 1.03)
		n.lines[i] = newDelayLine(int(ms/1000*float64(rate)) | 1)
		n.lines[i].absorb(rt, rate)
	}
	n.pre = newDelayLine(rate / 4)
	for ch := range n.taps {
		for range 7 {
			t := within(rng, 0.012, 0.075) * size
			n.taps[ch] = append(n.taps[ch], earlyTap{
				delay: int(t * float64(rate)),
				gain:  math.Copysign(math.Pow(10, -3*t/rt), rng.Float64()-0.5),
			})
		}
	}
	normalise(n, rt, rate, &n.gain)
	return n
}

func newDelayLine(n int) delayLine { return delayLine{buf: make([]float64, n)} }

// absorb sets the loss of one pass so that a level falls by 60 dB in rt seconds
// at 3 kHz and, as air and cloth have it, slower below and faster above.
func (d *delayLine) absorb(rt float64, rate int) {
	pass := func(rt float64) float64 { return math.Pow(10, -3*float64(len(d.buf))/float64(rate)/rt) }
	want, low := pass(rt), pass(1.2*rt)
	// With gain g at 0 Hz, |H| at w is g(1-b)/sqrt(1-2b cos w+b²): find b.
	cos := math.Cos(2 * math.Pi * 3000 / float64(rate))
	lo, hi := 0.0, 0.95
	for range 50 {
		b := (lo + hi) / 2
		if low*(1-b)/math.Sqrt(1-2*b*cos+b*b) > want {
			lo = b
		} else {
			hi = b
		}
	}
	d.g, d.b = low, (lo+hi)/2
}

func (n *network) process(in []float64, out [][]float64) {
	const share = 2.0 / 8
	for i, x := range in {
		n.pre.buf[n.pre.at] = x
		n.pre.at++
		if n.pre.at == len(n.pre.buf) {
			n.pre.at = 0
		}
		var y [8]float64
		sum := 0.0
		for k := range n.lines {
			l := &n.lines[k]
			l.z = l.g*(1-l.b)*l.buf[l.at] + l.b*l.z
			y[k] = l.z
			sum += l.z
		}
		sum *= share
		for k := range n.lines {
			l := &n.lines[k]
			l.buf[l.at] = y[k] - sum + x
			l.at++
			if l.at == len(l.buf) {
				l.at = 0
			}
		}
		for ch := range out {
			var w float64
			if ch == 0 {
				w = y[0] - y[1] + y[2] - y[3] + y[4] - y[5] + y[6] - y[7]
			} else {
				w = y[0] + y[1] - y[2] - y[3] + y[4] + y[5] - y[6] - y[7]
			}
			for _, t := range n.taps[ch] {
				j := n.pre.at - 1 - t.delay
				if j < 0 {
					j += len(n.pre.buf)
				}
				w += t.gain * n.pre.buf[j]
			}
			out[ch][i] += n.gain * w
		}
	}
}

// normalise sets gain so that the impulse response, measured, has energy 1 in
// the whistle band, and leaves the room silent.
func normalise(r *network, rt float64, rate int, gain *float64) {
	total := int(rt * 1.2 * float64(rate))
	in, out := make([]float64, blockSize), make([]float64, blockSize)
	f := newBandFilter(rate)
	energy := 0.0
	in[0] = 1
	for done := 0; done < total; done += blockSize {
		clear(out)
		r.process(in, [][]float64{out})
		in[0] = 0
		for _, x := range out {
			y := f.next(x)
			energy += y * y
		}
	}
	*gain = 1 / math.Sqrt(energy/bandShare(rate))
	r.reset()
}

func (n *network) reset() {
	for k := range n.lines {
		clear(n.lines[k].buf)
		n.lines[k].z = 0
	}
	clear(n.pre.buf)
}

// bandShare is the energy of a unit impulse in the whistle band.
func bandShare(rate int) float64 {
	f := newBandFilter(rate)
	sum, x := 0.0, 1.0
	for range rate / 4 {
		y := f.next(x)
		sum += y * y
		x = 0
	}
	return sum
}
