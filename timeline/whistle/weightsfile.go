package whistle

import (
	_ "embed"
	"encoding/binary"
	"fmt"
	"math"
	"sync"
)

// The trained judge. Made by: go run ./cmd/whistletrain
//
//go:embed judge.weights
var judgeFile []byte

// magic begins a file of weights: a name and a version. The version changes
// whenever patch measures something else.
const magic = "whistlecut judge 1\n"

var builtIn = sync.OnceValue(func() *Net {
	n, err := ReadNet(judgeFile)
	if err != nil {
		return handSet()
	}
	return n
})

// ReadNet reads weights that Encode wrote.
func ReadNet(b []byte) (*Net, error) {
	if len(b) < len(magic)+12 || string(b[:len(magic)]) != magic {
		return nil, fmt.Errorf("cannot read the weights of the judge: the file does not begin with %q; train again", magic)
	}
	b = b[len(magic):]
	u := func(i int) int { return int(binary.LittleEndian.Uint32(b[4*i:])) }
	inputs, h1, h2 := u(0), u(1), u(2)
	b = b[12:]
	if inputs != Inputs || h1 < 1 || h1 > 1000 || h2 < 1 || h2 > 1000 {
		return nil, fmt.Errorf("cannot read the weights of the judge: made for %d inputs, %d needed; train again", inputs, Inputs)
	}
	n := &Net{Hidden1: h1, Hidden2: h2}
	if len(b) != 4*(inputs*h1+h1+h1*h2+h2+2*h2+2) {
		return nil, fmt.Errorf("cannot read the weights of the judge: %d bytes are too few or too many; train again", len(b))
	}
	for _, p := range []struct {
		to *[]float32
		n  int
	}{{&n.W1, inputs * h1}, {&n.B1, h1}, {&n.W2, h1 * h2}, {&n.B2, h2}, {&n.W3, 2 * h2}, {&n.B3, 2}} {
		*p.to = make([]float32, p.n)
		for i := range *p.to {
			(*p.to)[i] = math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:]))
		}
		b = b[4*p.n:]
	}
	return n, nil
}

// Encode writes the weights as ReadNet reads them.
func (n *Net) Encode() []byte {
	b := []byte(magic)
	for _, v := range []int{Inputs, n.Hidden1, n.Hidden2} {
		b = binary.LittleEndian.AppendUint32(b, uint32(v))
	}
	for _, p := range [][]float32{n.W1, n.B1, n.W2, n.B2, n.W3, n.B3} {
		for _, x := range p {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(x))
		}
	}
	return b
}
