package app

import (
	"encoding/binary"
	"io"
	"math"
)

// mono mixes interleaved 32-bit float channels to one, as a stream. A dead
// channel is left out, and two that cancel each other (one wired the wrong way
// round) are not added.
type mono struct {
	r        io.Reader
	channels int
	in       []byte
	have     int // bytes of in that are filled
	out      []byte
	peak     []float64
	cancels  int // blocks in which the mix lost the sound
	blocks   int
	err      error
}

const monoBlock = 8192 // samples a channel

// alive is the peak below which a channel is taken for dead: -72 dB.
const alive = 2.5e-4

func newMono(r io.Reader, channels int) *mono {
	return &mono{r: r, channels: channels, in: make([]byte, 4*monoBlock*channels), peak: make([]float64, channels)}
}

// Read returns mono samples, little-endian 32-bit floats.
func (m *mono) Read(p []byte) (int, error) {
	if m.channels == 1 && m.have == 0 && len(m.out) == 0 {
		n, err := m.r.Read(p)
		return n, err
	}
	for len(m.out) == 0 {
		if m.err != nil {
			return 0, m.err
		}
		n, err := io.ReadFull(m.r, m.in)
		if err == io.ErrUnexpectedEOF {
			err = io.EOF
		}
		m.err = err
		m.mix(m.in[:n-n%(4*m.channels)])
	}
	n := copy(p, m.out)
	m.out = m.out[n:]
	return n, nil
}

func (m *mono) mix(in []byte) {
	n := len(in) / 4 / m.channels
	if n == 0 {
		return
	}
	at := func(i, c int) float64 {
		return float64(math.Float32frombits(binary.LittleEndian.Uint32(in[4*(i*m.channels+c):])))
	}
	power := make([]float64, m.channels)
	for i := range n {
		for c := range m.channels {
			x := at(i, c)
			if math.IsNaN(x) {
				continue
			}
			m.peak[c] = max(m.peak[c], math.Abs(x))
			power[c] += x * x
		}
	}
	use := m.living()
	sum, mixed := 0.0, 0.0
	for _, c := range use {
		sum += power[c] / float64(len(use))
	}
	for i := range n {
		x := 0.0
		for _, c := range use {
			x += at(i, c)
		}
		mixed += x * x / float64(len(use)*len(use))
	}
	if len(use) > 1 && sum > 0 {
		m.blocks++
		if mixed < 0.02*sum {
			m.cancels++
			use = use[:1]
		}
	}
	m.out = make([]byte, 0, 4*n)
	for i := range n {
		x := 0.0
		for _, c := range use {
			x += at(i, c)
		}
		m.out = binary.LittleEndian.AppendUint32(m.out, math.Float32bits(float32(x/float64(len(use)))))
	}
}

// living are the channels that carry sound; all of them while none does.
func (m *mono) living() []int {
	var use, all []int
	for c, p := range m.peak {
		all = append(all, c)
		if p > alive {
			use = append(use, c)
		}
	}
	if len(use) == 0 {
		return all
	}
	return use
}

func (m *mono) note() string {
	switch n := len(m.living()); {
	case m.channels > 1 && n < m.channels:
		return "one sound channel is dead; the other was heard"
	case m.blocks > 0 && m.cancels > m.blocks/2:
		return "the two sound channels cancel each other; one was heard"
	}
	return ""
}
