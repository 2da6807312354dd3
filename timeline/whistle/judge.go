package whistle

import "math"

// verdict is what the judge says of one hump.
type verdict struct {
	on    float32 // probability that an official is blowing at this pitch now
	onset float32 // that a blast begins within about 12 ms
}

// Net is a small feed-forward network: Inputs values, two hidden layers with
// leaky rectifiers, two logistic outputs (verdict). Weights are stored by
// output unit.
type Net struct {
	Hidden1, Hidden2 int
	W1, B1           []float32
	W2, B2           []float32
	W3, B3           []float32
}

// Leak is the rectifier's slope below zero.
const Leak = 0.05

// judge applies a Net; it is for one goroutine.
type judge struct {
	net    *Net
	h1, h2 []float32
}

func newJudge(n *Net) *judge {
	return &judge{net: n, h1: make([]float32, n.Hidden1), h2: make([]float32, n.Hidden2)}
}

func (j *judge) weigh(in *[Inputs]float32) verdict {
	Layer(j.h1, in[:], j.net.W1, j.net.B1)
	Layer(j.h2, j.h1, j.net.W2, j.net.B2)
	var out [2]float32
	for o := range out {
		out[o] = Dot(j.h2, j.net.W3[o*len(j.h2):]) + j.net.B3[o]
	}
	return verdict{logistic(out[0]), logistic(out[1])}
}

// Layer computes one layer of a Net with its leaky rectifier: out = w in + b,
// a row of len(in) weights for each output. The trainer uses the same, so that
// what is taught is what judges.
func Layer(out, in, w, b []float32) {
	for o := range out {
		s := Dot(in, w[o*len(in):]) + b[o]
		if s < 0 {
			s *= Leak
		}
		out[o] = s
	}
}

// Dot is the inner product of a and the first len(a) values of b.
func Dot(a, b []float32) float32 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float32
	i := 0
	for ; i+4 <= len(a); i += 4 {
		s0 += a[i] * b[i]
		s1 += a[i+1] * b[i+1]
		s2 += a[i+2] * b[i+2]
		s3 += a[i+3] * b[i+3]
	}
	for ; i < len(a); i++ {
		s0 += a[i] * b[i]
	}
	return s0 + s1 + s2 + s3
}

func logistic(x float32) float32 { return float32(1 / (1 + math.Exp(-float64(x)))) }
