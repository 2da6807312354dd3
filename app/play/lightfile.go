package play

import (
	"bufio"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"os"
)

// A light file holds JPEG pictures of consecutive frames of one film, each by
// itself, so that any of them is found and decoded without others: a magic
// line, the pictures, their lengths (4 bytes each), and a tail of numbers. All
// numbers are big-endian.

const (
	lightMagic = "whistlecut light copy 1\n"
	tailBytes  = 6 * 4 // first frame, count, width, height, check sum of lengths, tailMark
	tailMark   = 0x57434c31
	// maxLight bounds what a file may claim: frames in it, and bytes a picture.
	maxLightFrames, maxLightPicture = 1 << 20, 64 << 20
)

var errNotLight = errors.New("not a light copy, or a broken one")

// light is an open light file. It may be used by several goroutines.
type light struct {
	path          string
	first, count  int
	width, height int
	offset        []int64 // count+1 of them
	f             *os.File
}

// writeLight writes a light file; next gives picture after picture and io.EOF
// after the last.
func writeLight(w io.Writer, first, width, height int, next func() ([]byte, error)) error {
	out := bufio.NewWriterSize(w, 1<<20)
	if _, err := out.WriteString(lightMagic); err != nil {
		return err
	}
	var table []byte
	for {
		p, err := next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
		table = binary.BigEndian.AppendUint32(table, uint32(len(p)))
		if _, err := out.Write(p); err != nil {
			return err
		}
	}
	sum := crc32.ChecksumIEEE(table)
	count := len(table) / 4
	for _, n := range []uint32{uint32(first), uint32(count), uint32(width), uint32(height), sum, tailMark} {
		table = binary.BigEndian.AppendUint32(table, n)
	}
	if _, err := out.Write(table); err != nil {
		return err
	}
	return out.Flush()
}

// openLight opens a light file and reads its table.
func openLight(path string) (*light, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	l, err := readTable(f)
	if err != nil {
		f.Close()
		return nil, err
	}
	l.path, l.f = path, f
	return l, nil
}

func readTable(f *os.File) (*light, error) {
	st, err := f.Stat()
	if err != nil {
		return nil, err
	}
	size := st.Size()
	if size < int64(len(lightMagic)+tailBytes) {
		return nil, errNotLight
	}
	tail := make([]byte, tailBytes)
	if _, err := f.ReadAt(tail, size-tailBytes); err != nil {
		return nil, err
	}
	n := func(i int) int { return int(binary.BigEndian.Uint32(tail[4*i:])) }
	l := &light{first: n(0), count: n(1), width: n(2), height: n(3)}
	at := size - tailBytes - 4*int64(l.count)
	if n(5) != tailMark || l.count < 1 || l.count > maxLightFrames || at < int64(len(lightMagic)) {
		return nil, errNotLight
	}
	table := make([]byte, 4*l.count)
	if _, err := f.ReadAt(table, at); err != nil {
		return nil, err
	}
	if crc32.ChecksumIEEE(table) != uint32(n(4)) {
		return nil, errNotLight
	}
	l.offset = make([]int64, 1, l.count+1)
	l.offset[0] = int64(len(lightMagic))
	for i := range l.count {
		length := int64(binary.BigEndian.Uint32(table[4*i:]))
		if length > maxLightPicture {
			return nil, errNotLight
		}
		l.offset = append(l.offset, l.offset[i]+length)
	}
	if l.offset[l.count] != at {
		return nil, errNotLight
	}
	return l, nil
}

// has says whether a frame is in the file.
func (l *light) has(frame int) bool { return frame >= l.first && frame < l.first+l.count }

// read reads a frame's JPEG into buf, which is grown as needed.
func (l *light) read(frame int, buf []byte) ([]byte, error) {
	if !l.has(frame) {
		return nil, errNotLight
	}
	i := frame - l.first
	n := int(l.offset[i+1] - l.offset[i])
	if cap(buf) < n {
		buf = make([]byte, n, n+n/2)
	}
	buf = buf[:n]
	if _, err := l.f.ReadAt(buf, l.offset[i]); err != nil {
		return nil, err
	}
	return buf, nil
}

func (l *light) close() { l.f.Close() }
