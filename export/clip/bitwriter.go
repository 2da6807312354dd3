package clip

// bitWriter builds a raw byte sequence payload bit by bit.
type bitWriter struct {
	data []byte
	n    int // bits written
}

func (w *bitWriter) u(v uint32, n int) {
	for i := n - 1; i >= 0; i-- {
		if w.n%8 == 0 {
			w.data = append(w.data, 0)
		}
		if v>>i&1 == 1 {
			w.data[w.n/8] |= 0x80 >> (w.n % 8)
		}
		w.n++
	}
}

// ue writes an unsigned Exp-Golomb code.
func (w *bitWriter) ue(v uint32) {
	bits := 0
	for x := uint64(v) + 1; x > 1; x >>= 1 {
		bits++
	}
	w.u(0, bits)
	w.u(1, 1)
	w.u(v+1-1<<bits, bits)
}

// copyBits copies the bits of a payload from one position to another.
func (w *bitWriter) copyBits(data []byte, from, to int) {
	for i := from; i < to; i++ {
		w.u(uint32(data[i/8]>>(7-i%8)&1), 1)
	}
}

// end is the position behind a payload's stop bit's last data bit: what follows
// is the stop bit and its alignment.
func endOfPayload(data []byte) int {
	i := 8*len(data) - 1
	for i > 0 && data[i/8]>>(7-i%8)&1 == 0 {
		i--
	}
	return i
}

// stop writes the stop bit and fills the last byte.
func (w *bitWriter) stop() {
	w.u(1, 1)
	for w.n%8 != 0 {
		w.u(0, 1)
	}
}

// escape inserts emulation prevention bytes (H.264 7.4.1, H.265 7.4.2).
func escape(payload []byte) []byte {
	out := make([]byte, 0, len(payload)+len(payload)/64)
	zeros := 0
	for _, b := range payload {
		if zeros >= 2 && b <= 3 {
			out = append(out, 3)
			zeros = 0
		}
		if b == 0 {
			zeros++
		} else {
			zeros = 0
		}
		out = append(out, b)
	}
	return out
}
