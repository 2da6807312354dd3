package whistle

// leastConfidence is from which on a blast is reported.
const leastConfidence = 0.5

// goesOnBelow is the confidence below which a piece counts as part of the one it
// goes on from.
const goesOnBelow = 0.5

// traitWeights weigh traits into log odds.
var traitWeights = traits{-2.419, 0.884, 0.079, 0.013, 0.573, 0.259, 0, 0.920, 0, 0.213, 0.857, 0.322, 1.795, 0.409, 0.977, -1.328, 1.293}

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
