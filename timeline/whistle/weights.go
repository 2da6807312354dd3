package whistle

// leastConfidence is from which on a blast is reported.
const leastConfidence = 0.4

// traitWeights weigh traits into log odds.
var traitWeights = traits{-1.988, 1.712, -1.012, 1.045, 0.139, -0.015, 0, 1.126, 0, 0.259, 1.173, 0.161, 0.843}

// handSet is a judge without training: a hump that stands out is blowing, one
// that has just risen begins.
func handSet() *Net {
	n := &Net{Hidden1: 2, Hidden2: 2}
	n.W1, n.B1 = make([]float32, 2*Inputs), make([]float32, 2)
	contrast := len(columns) * len(ratios)
	for c := range columns {
		switch {
		case c >= 8 && c <= 11:
			n.W1[contrast+c] = 0.25
			n.W1[Inputs+contrast+c] = 0.25
		case c >= 3 && c <= 6:
			n.W1[Inputs+contrast+c] = -0.25
		}
	}
	n.W2, n.B2 = []float32{1, 0, 0, 1}, make([]float32, 2)
	n.W3, n.B3 = []float32{5, 0, 1, 8}, []float32{-6, -7}
	return n
}
