package footage

import (
	"bytes"
	"encoding/binary"
	"os"
	"sync"

	"whistlecut/timeline/footage/mp4"
)

// coded looks at the stored data of the picture in MP4 files with H.264 or HEVC,
// without decoding. Decoders hide much of what is damaged: they fill up what is
// missing from the frames before, and zeros may decode to something. The data
// itself can't look like that: its units have lengths that must add up, and no
// unit holds two zero bytes followed by 0, 1 or 2 (ITU-T H.264, 7.4.1; H.265,
// 7.4.2.1). It may be used by several goroutines; nil finds everything intact.
type coded struct {
	path   string
	offset []int64
	size   []uint32
	prefix int  // bytes of a unit's length
	hevc   bool // else H.264

	mu    sync.Mutex
	known []byte // of each packet: 0 not looked at yet
	buf   []byte
}

const (
	codedWhole   = 1
	codedDamaged = 2
)

// storedOnce makes what it holds when it is first asked for.
type storedOnce struct {
	once sync.Once
	data *coded
}

// coded is nil for films of which the data can't be checked.
func (f *File) coded() *coded {
	if f.stored == nil {
		return nil
	}
	f.stored.once.Do(func() { f.stored.data = readCoded(f) })
	return f.stored.data
}

func readCoded(f *File) *coded {
	if !f.Info.IsMP4() {
		return nil
	}
	file, err := mp4.Open(f.Path)
	if err != nil || file.Fragmented {
		return nil
	}
	t := trackOf(file, f.Info.Video)
	if t == nil || t.Samples.Unit != 0 || len(t.Entries) == 0 {
		return nil
	}
	if _, ok := stretchesOf(file, t); !ok {
		return nil // the index counts by another list
	}
	for _, d := range f.Index.decode {
		if int(d) >= t.Samples.Len() {
			return nil
		}
	}
	c := &coded{path: f.Path, offset: t.Samples.Offset, size: t.Samples.Size, known: make([]byte, t.Samples.Len())}
	for i, e := range t.Entries {
		prefix, hevc := unitsOf(e)
		if prefix == 0 || i > 0 && (prefix != c.prefix || hevc != c.hevc) {
			return nil
		}
		c.prefix, c.hevc = prefix, hevc
	}
	return c
}

// unitsOf says how units are stored (ISO/IEC 14496-15, 5.3.3 and 8.3.3); 0 for
// other codecs.
func unitsOf(e mp4.SampleEntry) (prefix int, hevc bool) {
	switch e.Type {
	case "avc1", "avc3":
		if b := e.Config("avcC"); len(b) > 4 {
			return int(b[4]&3) + 1, false
		}
	case "hvc1", "hev1":
		if b := e.Config("hvcC"); len(b) > 21 {
			return int(b[21]&3) + 1, true
		}
	}
	return 0, false
}

// intact says whether nothing speaks against a packet, by its place in decode
// order. A file that can't be read says nothing.
func (c *coded) intact(packet int) bool {
	if c == nil || packet >= len(c.offset) {
		return true
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.known[packet] == 0 {
		c.look(packet)
	}
	return c.known[packet] != codedDamaged
}

// lookAhead is how many bytes are read at once.
const lookAhead = 4 << 20

// look checks a packet and those stored behind it.
func (c *coded) look(packet int) {
	end, last := c.offset[packet]+int64(c.size[packet]), packet
	for last+1 < len(c.offset) && c.offset[last+1] >= end && c.offset[last+1]+int64(c.size[last+1])-c.offset[packet] <= lookAhead {
		last++
		end = c.offset[last] + int64(c.size[last])
	}
	if need := int(end - c.offset[packet]); cap(c.buf) < need {
		c.buf = make([]byte, need)
	}
	buf := c.buf[:end-c.offset[packet]]
	n := 0
	if f, err := os.Open(c.path); err == nil {
		n, _ = f.ReadAt(buf, c.offset[packet]) // what is missing is said by others
		f.Close()
	}
	for i := packet; i <= last; i++ {
		at := int(c.offset[i] - c.offset[packet])
		switch {
		case at+int(c.size[i]) > n:
			c.known[i] = codedWhole
		case unitsWhole(buf[at:at+int(c.size[i])], c.prefix, c.hevc):
			c.known[i] = codedWhole
		default:
			c.known[i] = codedDamaged
		}
	}
}

// padding is how many zero bytes behind the last unit are let pass.
const padding = 64

// unitsWhole checks one packet.
func unitsWhole(p []byte, prefix int, hevc bool) bool {
	seen := false
	for len(p) > prefix {
		length := uint64(0)
		for _, b := range p[:prefix] {
			length = length<<8 | uint64(b)
		}
		if length == 0 {
			return seen && len(p) <= padding && allZero(p)
		}
		if length > uint64(len(p)-prefix) {
			return false
		}
		unit := p[prefix : prefix+int(length)]
		p = p[prefix+int(length):]
		seen = true
		if unit[0]&0x80 != 0 { // must be 0
			return false
		}
		kind := unit[0] & 0x1f
		picture := kind >= 1 && kind <= 5
		if hevc {
			kind = unit[0] >> 1
			picture = kind < 32
		}
		if picture && stuffed(unit) {
			return false
		}
	}
	return seen && allZero(p)
}

// stuffed says whether a unit holds what none can hold. Zeros at its end are let
// pass: some writers leave them there.
func stuffed(unit []byte) bool {
	if len(unit) > padding {
		tail := unit[len(unit)-padding:]
		if !allZero(tail) {
			tail = bytes.TrimRight(tail, "\x00")
			unit = unit[:len(unit)-padding+len(tail)]
		}
	} else {
		unit = bytes.TrimRight(unit, "\x00")
	}
	for {
		i := bytes.Index(unit, twoZeros)
		if i < 0 || i+2 >= len(unit) {
			return false
		}
		if unit[i+2] < 3 {
			return true
		}
		unit = unit[i+2:]
	}
}

var twoZeros = []byte{0, 0}

func allZero(p []byte) bool {
	for len(p) >= 8 {
		if binary.NativeEndian.Uint64(p) != 0 {
			return false
		}
		p = p[8:]
	}
	for _, b := range p {
		if b != 0 {
			return false
		}
	}
	return true
}
