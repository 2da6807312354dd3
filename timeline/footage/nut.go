package footage

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"math/bits"
)

// Pictures come out of ffmpeg in a NUT stream (the open container of the FFmpeg
// and MPlayer projects; layout from memory of its specification, version 3),
// because it says of each packet when it is shown. A bare row of pictures
// doesn't: one that the decoder leaves out shifts all after it unnoticed.

// nutReader reads the packets of a NUT stream that holds one stream.
type nutReader struct {
	r       *bufio.Reader
	codes   [256]nutCode
	elision [][]byte // beginnings that packets may leave out
	bases   []Rational
	base    Rational // of the stream
	shift   uint     // coded times below 1<<shift are the lower bits of one
	last    int64    // time of the packet before
	ready   bool     // main and stream header were read
}

// nutCode is what a frame code stands for.
type nutCode struct {
	flags     uint64
	delta     int64 // of the time, where none is coded
	mul, lsb  uint64
	reserved  uint64
	elision   uint64
	forbidden bool
}

const (
	nutMagic = "nut/multimedia container\x00"

	nutMain   = 0x4e4d7a561f5f04ad
	nutStream = 0x4e5311405bf2f9db
	nutSync   = 0x4e4be4adeeca4569
	nutIndex  = 0x4e58dd672f23e64e
	nutInfo   = 0x4e49ab68b596ba78
)

// Flags of a packet.
const (
	nutEOR      = 1 << 1
	nutCodedPTS = 1 << 3
	nutStreamID = 1 << 4
	nutSizeMSB  = 1 << 5
	nutChecksum = 1 << 6
	nutReserved = 1 << 7
	nutElision  = 1 << 10
	nutMatch    = 1 << 11
	nutCoded    = 1 << 12
	nutInvalid  = 1 << 13
)

// nutHeaderMost bounds what a header may claim to be long.
const nutHeaderMost = 1 << 20

var errNotNUT = errors.New("footage: ffmpeg gave something else than the stream of pictures it was asked for")

func newNUT(r io.Reader) *nutReader { return &nutReader{r: bufio.NewReaderSize(r, 1<<14)} }

// next reads the head of the next packet: when it is shown, in ticks of base,
// and its length in bytes, of which head, given too, was left out. The rest must
// be read from r before next is called again. The end is io.EOF.
func (n *nutReader) next() (pts int64, head []byte, size int, err error) {
	if !n.ready {
		magic := make([]byte, len(nutMagic))
		if _, err := io.ReadFull(n.r, magic); err != nil {
			return 0, nil, 0, err
		}
		if string(magic) != nutMagic {
			return 0, nil, 0, errNotNUT
		}
		n.ready = true
	}
	for {
		code, err := n.r.ReadByte()
		if err != nil {
			return 0, nil, 0, err // io.EOF between packets is the end
		}
		if code == 'N' {
			if err := n.header(); err != nil {
				return 0, nil, 0, unexpected(err)
			}
			continue
		}
		pts, head, size, err = n.packet(code)
		return pts, head, size, unexpected(err)
	}
}

// header reads a header whose first byte was read.
func (n *nutReader) header() error {
	mark := uint64('N')
	for range 7 {
		b, err := n.r.ReadByte()
		if err != nil {
			return err
		}
		mark = mark<<8 | uint64(b)
	}
	length, err := n.number(n.r)
	if err != nil {
		return err
	}
	if length > nutHeaderMost {
		return errNotNUT
	}
	if length > 4096 { // a check sum of the head
		if _, err := n.r.Discard(4); err != nil {
			return err
		}
	}
	body := make([]byte, length)
	if _, err := io.ReadFull(n.r, body); err != nil {
		return err
	}
	in := &nutFields{data: body}
	switch mark {
	case nutMain:
		n.main(in)
	case nutStream:
		n.stream(in)
	case nutSync:
		if len(n.bases) == 0 {
			return errNotNUT
		}
		t := in.u()
		from := n.bases[t%uint64(len(n.bases))]
		n.last = nutRescale(int64(t/uint64(len(n.bases))), from, n.base)
	case nutIndex, nutInfo:
	default:
		return errNotNUT
	}
	if in.bad {
		return errNotNUT
	}
	return nil
}

func (n *nutReader) main(in *nutFields) {
	if in.u() > 3 { // version; later ones have a minor one
		in.u()
	}
	in.u() // streams
	in.u() // greatest distance of check sums
	for range min(in.u(), 1<<10) {
		b := Rational{int64(in.u()), int64(in.u())}
		if b.Num <= 0 || b.Den <= 0 {
			in.bad = true
		}
		n.bases = append(n.bases, b)
	}
	var delta int64
	var mul, elision uint64 = 1, 0
	for i := 0; i < 256 && !in.bad; {
		flags, fields := in.u(), in.u()
		var lsb, reserved uint64
		if fields > 0 {
			delta = in.s()
		}
		if fields > 1 {
			mul = in.u()
		}
		if fields > 2 {
			in.u() // the stream; there is one
		}
		if fields > 3 {
			lsb = in.u()
		}
		if fields > 4 {
			reserved = in.u()
		}
		count := mul - lsb
		if fields > 5 {
			count = in.u()
		}
		if fields > 6 {
			in.s() // how far decoding times match
		}
		if fields > 7 {
			elision = in.u()
		}
		for k := uint64(8); k < min(fields, 64); k++ {
			in.u()
		}
		for j := uint64(0); j < count && i < 256; i++ {
			if i == 'N' {
				n.codes[i].forbidden = true
				continue
			}
			n.codes[i] = nutCode{flags: flags, delta: delta, mul: mul, lsb: lsb + j, reserved: reserved, elision: elision, forbidden: flags&nutInvalid != 0}
			j++
		}
	}
	n.elision = [][]byte{nil}
	for range min(in.u(), 128) {
		n.elision = append(n.elision, in.bytes(in.u()))
	}
}

func (n *nutReader) stream(in *nutFields) {
	in.u()           // its number
	in.u()           // its class
	in.bytes(in.u()) // the codec's name
	base := in.u()
	n.shift = uint(in.u())
	if base >= uint64(len(n.bases)) || n.shift > 32 {
		in.bad = true
		return
	}
	n.base = n.bases[base]
}

// packet reads a packet's head; its code was read.
func (n *nutReader) packet(code byte) (pts int64, head []byte, size int, err error) {
	c := n.codes[code]
	if c.forbidden || n.base.Den == 0 {
		return 0, nil, 0, errNotNUT
	}
	var firstErr error
	number := func() uint64 {
		v, err := n.number(n.r)
		if firstErr == nil {
			firstErr = err
		}
		return v
	}
	flags := c.flags
	if flags&nutCoded != 0 {
		flags ^= number()
	}
	if flags&nutStreamID != 0 {
		number()
	}
	pts = n.last + c.delta
	if flags&nutCodedPTS != 0 {
		pts = n.full(number())
	}
	length := c.lsb
	if flags&nutSizeMSB != 0 {
		length += c.mul * number()
	}
	if flags&nutMatch != 0 {
		number()
	}
	elision := c.elision
	if flags&nutElision != 0 {
		elision = number()
	}
	reserved := c.reserved
	if flags&nutReserved != 0 {
		reserved = number()
	}
	for range min(reserved, 64) {
		number()
	}
	if flags&nutChecksum != 0 && firstErr == nil {
		_, firstErr = n.r.Discard(4)
	}
	if firstErr != nil {
		return 0, nil, 0, firstErr
	}
	if elision >= uint64(len(n.elision)) || length > math.MaxInt32 || uint64(len(n.elision[elision])) > length {
		return 0, nil, 0, errNotNUT
	}
	if length > 4096 {
		elision = 0 // long packets are always whole
	}
	n.last = pts
	return pts, n.elision[elision], int(length), nil
}

// full is the time that a coded one stands for: the nearest to the last one with
// these lower bits, or one written whole.
func (n *nutReader) full(coded uint64) int64 {
	if coded >= 1<<n.shift {
		return int64(coded - 1<<n.shift)
	}
	mask := int64(1)<<n.shift - 1
	delta := n.last - mask/2
	return (int64(coded)-delta)&mask + delta
}

// number reads a variable-length number: seven bits a byte, the highest first.
func (n *nutReader) number(r io.ByteReader) (uint64, error) {
	v := uint64(0)
	for range 10 {
		b, err := r.ReadByte()
		if err != nil {
			return 0, err
		}
		v = v<<7 | uint64(b&0x7f)
		if b < 0x80 {
			return v, nil
		}
	}
	return 0, errNotNUT
}

// nutRescale is t ticks of one base in ticks of another, rounded down.
func nutRescale(t int64, from, to Rational) int64 {
	if t < 0 || to.Num <= 0 || from.Den <= 0 {
		return 0
	}
	hi, lo := bits.Mul64(uint64(from.Num), uint64(to.Den))
	down := uint64(from.Den) * uint64(to.Num)
	if hi != 0 || down == 0 {
		return 0
	}
	hi, lo = bits.Mul64(uint64(t), lo)
	if hi >= down {
		return 0
	}
	q, _ := bits.Div64(hi, lo, down)
	return int64(q)
}

// nutFields reads the fields of a header; bad is set at the first that is not
// there.
type nutFields struct {
	data []byte
	bad  bool
}

func (f *nutFields) u() uint64 {
	v := uint64(0)
	for i, b := range f.data {
		v = v<<7 | uint64(b&0x7f)
		if b < 0x80 && i < 10 {
			f.data = f.data[i+1:]
			return v
		}
	}
	f.bad, f.data = true, nil
	return 0
}

// s is a signed number: 0, 1, -1, 2, -2 and so on.
func (f *nutFields) s() int64 {
	v := int64(f.u()) + 1
	if v&1 != 0 {
		return -(v >> 1)
	}
	return v >> 1
}

func (f *nutFields) bytes(n uint64) []byte {
	if n > uint64(len(f.data)) {
		f.bad, f.data = true, nil
		return nil
	}
	b := f.data[:n]
	f.data = f.data[n:]
	return b
}

// shownAt finds the frame that a packet is: the first from frame next on that
// is shown at its time, in ticks of base. Frames with equal times come out a
// tick apart.
func shownAt(x *Index, next int, pts int64, base Rational) (int, error) {
	want := nutRescale(pts, base, x.base)
	at := func(i int) int64 { return x.pts[i] - min(0, x.pts[0]) }
	for i := next; i < len(x.pts); i++ {
		t := at(i)
		if t == want || i > 0 && t == at(i-1) && want > t && want-t <= maxReorder {
			return i, nil
		}
		if t > want {
			break
		}
	}
	return 0, fmt.Errorf("footage: the decoder gave a picture for %d ticks, and no frame from %d on is shown then", want, next)
}
