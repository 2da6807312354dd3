package whistle

import (
	_ "embed"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"sync"
)

// The trained judge and weigher. Made by cmd/whistletrain, whose
// package comment gives the commands.
var (
	//go:embed judge.weights
	judgeFile []byte
	//go:embed weigher.weights
	weigherFile []byte
)

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

var builtInWeigher = sync.OnceValue(func() *Weigher {
	w, err := ReadWeigher(weigherFile)
	if err != nil {
		return handWeigher()
	}
	return w
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

// weigherMagic is the weigher's name and version, which changes with the traits.
const weigherMagic = "whistlecut weigher 3\n"

// treeBytes is the length of a tree in the file.
const treeBytes = 5*(1<<Depth-1) + 4<<Depth

// ReadWeigher reads weights that Weigher.Encode wrote.
func ReadWeigher(b []byte) (*Weigher, error) {
	if len(b) < len(weigherMagic)+8 || string(b[:len(weigherMagic)]) != weigherMagic {
		return nil, fmt.Errorf("cannot read the weights of the weigher: the file does not begin with %q; train again", weigherMagic)
	}
	r := &weightsReader{b: b[len(weigherMagic):]}
	if traits := r.number(); traits != Traits {
		return nil, fmt.Errorf("cannot read the weights of the weigher: made for %d traits, %d needed; train again", traits, Traits)
	}
	n := r.number()
	if n < 1 || n > 2 {
		return nil, fmt.Errorf("cannot read the weights of the weigher: %d weighings, 1 or 2 needed; train again", n)
	}
	forests := make([]Forest, n)
	for i := range forests {
		r.forest(&forests[i])
	}
	if r.err == nil && len(r.b) > 0 {
		r.err = fmt.Errorf("%d bytes are too many", len(r.b))
	}
	if r.err != nil {
		return nil, fmt.Errorf("cannot read the weights of the weigher: %w; train again", r.err)
	}
	w := &Weigher{First: forests[0]}
	if len(forests) == 2 {
		w.Second = &forests[1]
	}
	return w, nil
}

// weightsReader takes numbers from the front of b until something is amiss.
type weightsReader struct {
	b   []byte
	err error
}

func (r *weightsReader) number() int { return int(r.word()) }

func (r *weightsReader) word() uint32 {
	if len(r.b) < 4 {
		r.err = errors.New("the file ends too early")
		r.b = nil
		return 0
	}
	v := binary.LittleEndian.Uint32(r.b)
	r.b = r.b[4:]
	return v
}

func (r *weightsReader) forest(f *Forest) {
	trees := r.number()
	f.Base = math.Float32frombits(r.word())
	if r.err != nil || trees > 10_000 || len(r.b) < trees*treeBytes {
		r.err = errors.New("the file ends too early")
		return
	}
	f.Trees = make([]Tree, trees)
	for i := range f.Trees {
		t := &f.Trees[i]
		r.b = r.b[copy(t.Trait[:], r.b):]
		for k, q := range t.Trait {
			if q >= Traits {
				r.err = fmt.Errorf("tree %d asks for trait %d of %d", i, q, Traits)
				return
			}
			t.Limit[k] = math.Float32frombits(r.word())
		}
		for k := range t.Leaves {
			t.Leaves[k] = math.Float32frombits(r.word())
		}
	}
}

// Encode writes the weights as ReadWeigher reads them.
func (w *Weigher) Encode() []byte {
	forests := []*Forest{&w.First}
	if w.Second != nil {
		forests = append(forests, w.Second)
	}
	b := binary.LittleEndian.AppendUint32([]byte(weigherMagic), Traits)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(forests)))
	for _, f := range forests {
		b = f.encode(b)
	}
	return b
}

func (f *Forest) encode(b []byte) []byte {
	b = binary.LittleEndian.AppendUint32(b, uint32(len(f.Trees)))
	b = binary.LittleEndian.AppendUint32(b, math.Float32bits(f.Base))
	for i := range f.Trees {
		t := &f.Trees[i]
		b = append(b, t.Trait[:]...)
		for _, p := range [][]float32{t.Limit[:], t.Leaves[:]} {
			for _, x := range p {
				b = binary.LittleEndian.AppendUint32(b, math.Float32bits(x))
			}
		}
	}
	return b
}
