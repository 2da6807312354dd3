package clip

import "errors"

// nals splits a sample of length-prefixed NAL units (ISO/IEC 14496-15).
func nals(sample []byte, lengthSize int) ([][]byte, error) {
	var out [][]byte
	for pos := 0; pos < len(sample); {
		if len(sample)-pos < lengthSize {
			return nil, errBrokenSample
		}
		n := 0
		for _, b := range sample[pos : pos+lengthSize] {
			n = n<<8 | int(b)
		}
		pos += lengthSize
		if n > len(sample)-pos {
			return nil, errBrokenSample
		}
		if n > 0 {
			out = append(out, sample[pos:pos+n])
		}
		pos += n
	}
	return out, nil
}

var errBrokenSample = errors.New("a coded frame of the film is broken")

// bitReader reads a raw byte sequence payload: emulation prevention bytes removed.
type bitReader struct {
	data []byte
	pos  int
	bad  bool
}

// payload removes emulation prevention bytes (H.264 7.3.1, H.265 7.3.1.1).
func payload(nal []byte) []byte {
	out := make([]byte, 0, len(nal))
	zeros := 0
	for _, b := range nal {
		if zeros >= 2 && b == 3 {
			zeros = 0
			continue
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

func (b *bitReader) u(n int) uint32 {
	var v uint32
	for range n {
		if b.pos >= 8*len(b.data) {
			b.bad = true
			return 0
		}
		v = v<<1 | uint32(b.data[b.pos/8]>>(7-b.pos%8)&1)
		b.pos++
	}
	return v
}

// ue reads an unsigned Exp-Golomb code.
func (b *bitReader) ue() uint32 {
	zeros := 0
	for b.u(1) == 0 {
		zeros++
		if zeros > 31 || b.bad {
			b.bad = true
			return 0
		}
	}
	return 1<<zeros - 1 + b.u(zeros)
}

func (b *bitReader) se() int32 {
	v := b.ue()
	if v%2 == 1 {
		return int32(v/2 + 1)
	}
	return -int32(v / 2)
}
