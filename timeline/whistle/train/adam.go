package train

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"sync"
	"time"

	"whistlecut/timeline/whistle"
)

// batch is how many examples a step learns from; hands share it, so that two
// cores are used. The number of hands is fixed: sums of numbers depend on their
// order, and equal seeds should give equal weights whatever the machine.
const (
	batch = 128
	hands = 2
)

// Teach trains a judge by Adam (Kingma and Ba 2015) with mini-batches on the
// cross-entropy of both outputs. It keeps the weights that do best on held.
func Teach(log io.Writer, examples, held []Example, hidden1, hidden2, epochs int, seed uint64) *whistle.Net {
	r := rand.New(rand.NewPCG(seed, 5))
	t := newTeacher(r, hidden1, hidden2)
	crew := []*teacher{t}
	for len(crew) < hands {
		crew = append(crew, t.helper())
	}
	noise := make([]*rand.Rand, hands)
	for k := range noise {
		noise[k] = rand.New(rand.NewPCG(seed, 50+uint64(k)))
	}
	order := make([]int, len(examples))
	for i := range order {
		order[i] = i
	}
	total := epochs * len(examples) / batch
	best, kept := math.Inf(1), t.copy()
	done := 0
	losses := make([]float64, hands)
	for e := range epochs {
		began := time.Now()
		r.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		clear(losses)
		for at := 0; at+batch <= len(order); at += batch {
			var wg sync.WaitGroup
			for k, h := range crew {
				wg.Go(func() {
					for _, i := range order[at+k*batch/hands : at+(k+1)*batch/hands] {
						losses[k] += h.learn(&examples[i], noise[k])
					}
				})
			}
			wg.Wait()
			for _, h := range crew[1:] {
				t.take(h)
			}
			// The step falls along a half cosine.
			t.update(batch, 0.002*(0.5+0.5*math.Cos(math.Pi*float64(done)/float64(total)))+1e-5)
			done++
		}
		loss := 0.0
		for _, l := range losses {
			loss += l / float64(len(order))
		}
		h := t.loss(held)
		fmt.Fprintf(log, "epoch %d: loss %.4f, on scenes not learned from %.4f (%.0f s)\n", e+1, loss, h, time.Since(began).Seconds())
		if h < best {
			best, kept = h, t.copy()
		}
	}
	return kept
}

// teacher is a net with its gradients and moments. All weights lie in one slice.
type teacher struct {
	h1, h2     int
	w, g, m, v []float32
	n          int
	a1, a2     []float32
	d1, d2     []float32
	steps      float64
	in         [whistle.Inputs]float32
}

func newTeacher(r *rand.Rand, h1, h2 int) *teacher {
	const in = whistle.Inputs
	n := in*h1 + h1 + h1*h2 + h2 + 2*h2 + 2
	t := &teacher{h1: h1, h2: h2, n: n, w: make([]float32, n), g: make([]float32, n), m: make([]float32, n), v: make([]float32, n)}
	t.scratch()
	w1, _, w2, _, w3, b3 := t.split(t.w)
	for _, p := range []struct {
		w  []float32
		in int
	}{{w1, in}, {w2, h1}, {w3, h2}} {
		s := math.Sqrt(2 / float64(p.in))
		for i := range p.w {
			p.w[i] = float32(s * r.NormFloat64())
		}
	}
	b3[0], b3[1] = -1, -3
	return t
}

func (t *teacher) scratch() {
	t.a1, t.d1, t.a2, t.d2 = make([]float32, t.h1), make([]float32, t.h1), make([]float32, t.h2), make([]float32, t.h2)
}

// helper shares t's weights and gathers a gradient of its own.
func (t *teacher) helper() *teacher {
	h := &teacher{h1: t.h1, h2: t.h2, n: t.n, w: t.w, g: make([]float32, t.n)}
	h.scratch()
	return h
}

// take adds a helper's gradient to t's and clears it.
func (t *teacher) take(h *teacher) {
	for i, g := range h.g {
		t.g[i] += g
		h.g[i] = 0
	}
}

func (t *teacher) split(x []float32) (w1, b1, w2, b2, w3, b3 []float32) {
	cut := func(n int) []float32 {
		p := x[:n:n]
		x = x[n:]
		return p
	}
	w1, b1 = cut(whistle.Inputs*t.h1), cut(t.h1)
	w2, b2 = cut(t.h1*t.h2), cut(t.h2)
	w3, b3 = cut(2*t.h2), cut(2)
	return
}

func (t *teacher) copy() *whistle.Net {
	w1, b1, w2, b2, w3, b3 := t.split(append([]float32(nil), t.w...))
	return &whistle.Net{Hidden1: t.h1, Hidden2: t.h2, W1: w1, B1: b1, W2: w2, B2: b2, W3: w3, B3: b3}
}

func (t *teacher) forward(in []float32) [2]float64 {
	w1, b1, w2, b2, w3, b3 := t.split(t.w)
	whistle.Layer(t.a1, in, w1, b1)
	whistle.Layer(t.a2, t.a1, w2, b2)
	var p [2]float64
	for o := range p {
		p[o] = 1 / (1 + math.Exp(-float64(b3[o]+whistle.Dot(t.a2, w3[o*t.h2:]))))
	}
	return p
}

// shares of the two outputs in the loss.
var shares = [2]float64{1, 1.5}

func crossEntropy(p, y float64) float64 {
	p = min(max(p, 1e-6), 1-1e-6)
	return -y*math.Log(p) - (1-y)*math.Log(1-p)
}

// learn adds one example's gradient and returns its loss. A tenth of the inputs'
// noise and a common shift keep the judge from leaning on single values.
func (t *teacher) learn(e *Example, r *rand.Rand) float64 {
	in := t.in[:]
	for i, x := range e.In {
		in[i] = x + 0.1*(r.Float32()-0.5)
	}
	p := t.forward(in)
	_, _, w2, _, w3, _ := t.split(t.w)
	g1, gb1, g2, gb2, g3, gb3 := t.split(t.g)
	clear(t.d2)
	loss := 0.0
	for o, y := range [2]float32{e.On, e.Onset} {
		if y < 0 {
			continue
		}
		loss += shares[o] * crossEntropy(p[o], float64(y))
		d := float32(shares[o] * (p[o] - float64(y)))
		gb3[o] += d
		axpy(g3[o*t.h2:(o+1)*t.h2], t.a2, d)
		axpy(t.d2, w3[o*t.h2:(o+1)*t.h2], d)
	}
	clear(t.d1)
	for k, d := range t.d2 {
		if t.a2[k] < 0 {
			d *= whistle.Leak
		}
		gb2[k] += d
		axpy(g2[k*t.h1:(k+1)*t.h1], t.a1, d)
		axpy(t.d1, w2[k*t.h1:(k+1)*t.h1], d)
	}
	for k, d := range t.d1 {
		if t.a1[k] < 0 {
			d *= whistle.Leak
		}
		gb1[k] += d
		axpy(g1[k*whistle.Inputs:(k+1)*whistle.Inputs], in, d)
	}
	return loss
}

// axpy adds a*x to y.
func axpy(y, x []float32, a float32) {
	x = x[:len(y)]
	for i := range y {
		y[i] += a * x[i]
	}
}

func (t *teacher) update(batch int, rate float64) {
	t.steps++
	const b1, b2, decay = 0.9, 0.999, 1e-2
	c1, c2 := 1-math.Pow(b1, t.steps), 1-math.Pow(b2, t.steps)
	k := float32(rate / c1)
	inv := float32(1 / float64(batch))
	rc2 := float32(1 / c2)
	for i, g := range t.g {
		g *= inv
		t.m[i] += (1 - b1) * (g - t.m[i])
		t.v[i] += (1 - b2) * (g*g - t.v[i])
		t.w[i] -= k*t.m[i]/(float32(math.Sqrt(float64(t.v[i]*rc2)))+1e-8) + float32(rate*decay)*t.w[i]
		t.g[i] = 0
	}
}

func (t *teacher) loss(list []Example) float64 {
	sum := 0.0
	for i := range list {
		p := t.forward(list[i].In[:])
		for o, y := range [2]float32{list[i].On, list[i].Onset} {
			if y >= 0 {
				sum += shares[o] * crossEntropy(p[o], float64(y))
			}
		}
	}
	return sum / float64(max(1, len(list)))
}
