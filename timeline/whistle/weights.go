package whistle

// Least is the confidence from which on a blast is reported if nothing else is
// asked for.
const Least = 0.5

// goesOnBelow is the confidence below which a piece counts as part of the one it
// goes on from.
const goesOnBelow = 0.5

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

// handWeigher trusts a candidate's own frames: how surely it begins.
func handWeigher() *Weigher {
	w := &Weigher{First: Forest{Base: -1, Trees: make([]Tree, 1)}}
	t := &w.First.Trees[0]
	for i := range t.Leaves {
		// All questions are of trait 0; the last level decides.
		t.Leaves[i] = float32(i/8) * 2.5
	}
	return w
}
