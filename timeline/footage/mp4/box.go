package mp4

import (
	"encoding/binary"
)

// maxDepth bounds nested boxes; real files stay below ten.
const maxDepth = 16

// box is one box held in memory: its four-letter type, its payload without the
// header, and where the payload starts in the file.
type box struct {
	kind string
	data []byte
	at   int64
}

// split cuts data, whose first byte lies at file offset at, into boxes. A
// trailing rest under eight bytes is ignored: QuickTime ends some lists with a
// 32-bit zero.
func split(data []byte, at int64) ([]box, error) {
	var out []box
	for pos := 0; len(data)-pos >= 8; {
		head := 8
		size := uint64(binary.BigEndian.Uint32(data[pos:]))
		kind := string(data[pos+4 : pos+8])
		switch size {
		case 0: // to the end of the enclosing box
			if kind == "\x00\x00\x00\x00" {
				return out, nil
			}
			size = uint64(len(data) - pos)
		case 1:
			if len(data)-pos < 16 {
				return nil, malformed(at+int64(pos), "box %q ends inside its header", kind)
			}
			head = 16
			size = binary.BigEndian.Uint64(data[pos+8:])
		}
		if size < uint64(head) || size > uint64(len(data)-pos) {
			return nil, malformed(at+int64(pos), "box %q claims %d bytes where %d are left", kind, size, len(data)-pos)
		}
		end := pos + int(size)
		out = append(out, box{kind: kind, data: data[pos+head : end : end], at: at + int64(pos+head)})
		pos = end
	}
	return out, nil
}

// children splits a container's payload.
func (b box) children() ([]box, error) { return split(b.data, b.at) }

// find returns the first child of that kind.
func find(boxes []box, kind string) (box, bool) {
	for _, b := range boxes {
		if b.kind == kind {
			return b, true
		}
	}
	return box{}, false
}

// path follows kinds downwards through containers.
func path(boxes []box, kinds ...string) (box, bool, error) {
	var b box
	for i, kind := range kinds {
		if i > maxDepth {
			return box{}, false, malformed(b.at, "boxes nested too deeply")
		}
		if i > 0 {
			var err error
			if boxes, err = b.children(); err != nil {
				return box{}, false, err
			}
		}
		var ok bool
		if b, ok = find(boxes, kind); !ok {
			return box{}, false, nil
		}
	}
	return b, true, nil
}

// fields reads big-endian numbers one after the other and remembers whether it
// ran out.
type fields struct {
	data  []byte
	pos   int
	short bool
}

func (f *fields) take(n int) []byte {
	if f.short || n < 0 || len(f.data)-f.pos < n {
		f.short = true
		return nil
	}
	b := f.data[f.pos : f.pos+n]
	f.pos += n
	return b
}

func (f *fields) skip(n int) { f.take(n) }

func (f *fields) u16() uint16 {
	if b := f.take(2); b != nil {
		return binary.BigEndian.Uint16(b)
	}
	return 0
}

func (f *fields) u32() uint32 {
	if b := f.take(4); b != nil {
		return binary.BigEndian.Uint32(b)
	}
	return 0
}

func (f *fields) u64() uint64 {
	if b := f.take(8); b != nil {
		return binary.BigEndian.Uint64(b)
	}
	return 0
}

// versioned reads a full box's version and drops its flags.
func (f *fields) versioned() (version uint8, flags uint32) {
	v := f.u32()
	return uint8(v >> 24), v & 0xffffff
}

// wide reads a 64-bit number in version 1 and a 32-bit one otherwise.
func (f *fields) wide(version uint8) uint64 {
	if version == 1 {
		return f.u64()
	}
	return uint64(f.u32())
}
