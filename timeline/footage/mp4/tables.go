package mp4

import (
	"encoding/binary"
	"fmt"
)

// maxSamples bounds the rows of all tracks together: 37 hours of picture at
// 120 frames a second.
const maxSamples = 16 << 20

// table finds a full box holding a 32-bit count and rows of a fixed size, and
// checks the count against the bytes there. No box: no rows.
func table(tables []box, kind string, row int, track uint32) (rows []byte, n int, version uint8, err error) {
	b, ok := find(tables, kind)
	if !ok {
		return nil, 0, 0, nil
	}
	f := fields{data: b.data}
	version, _ = f.versioned()
	count := uint64(f.u32())
	if f.short || count > uint64(len(f.data)-f.pos)/uint64(row) {
		return nil, 0, 0, malformed(b.at, "table %q of track %d claims %d rows and is shorter", kind, track, count)
	}
	return f.data[f.pos:], int(count), version, nil
}

// sizes is the sample size table: all alike, or one by one.
type sizes struct {
	count   int
	uniform uint32
	each    []uint32
}

func (s sizes) at(i int) uint32 {
	if s.each != nil {
		return s.each[i]
	}
	return s.uniform
}

func readSizes(tables []box, track uint32) (sizes, error) {
	if b, ok := find(tables, "stsz"); ok {
		f := fields{data: b.data}
		f.versioned()
		s := sizes{uniform: f.u32()}
		count := uint64(f.u32())
		if f.short {
			return s, malformed(b.at, "the size table of track %d is cut off", track)
		}
		if s.uniform > 0 {
			s.count = int(count)
			return s, nil
		}
		rest := f.data[f.pos:]
		if count > uint64(len(rest))/4 {
			return s, malformed(b.at, "the size table of track %d claims %d rows and is shorter", track, count)
		}
		s.count = int(count)
		if s.count > maxSamples {
			return s, tooMany(b.at, track, s.count)
		}
		s.each = make([]uint32, count)
		for i := range s.each {
			s.each[i] = binary.BigEndian.Uint32(rest[4*i:])
		}
		return s, nil
	}
	if b, ok := find(tables, "stz2"); ok {
		f := fields{data: b.data}
		f.versioned()
		bits := f.u32() & 0xff
		count := uint64(f.u32())
		if f.short || (bits != 4 && bits != 8 && bits != 16) || count > uint64(len(f.data)-f.pos)*8/uint64(bits) {
			return sizes{}, malformed(b.at, "the compact size table of track %d is broken", track)
		}
		if count > maxSamples {
			return sizes{}, tooMany(b.at, track, int(count))
		}
		rest := f.data[f.pos:]
		s := sizes{count: int(count), each: make([]uint32, count)}
		for i := range s.each {
			switch bits {
			case 4:
				s.each[i] = uint32(rest[i/2]>>(4*(1-i%2))) & 15
			case 8:
				s.each[i] = uint32(rest[i])
			case 16:
				s.each[i] = uint32(binary.BigEndian.Uint16(rest[2*i:]))
			}
		}
		return s, nil
	}
	return sizes{}, nil
}

func tooMany(at int64, track uint32, n int) error {
	return &Error{Kind: Unsupported, Offset: at, What: fmt.Sprintf("track %d claims %d samples", track, n), Do: doOtherReader}
}

// readSamples fills the columns.
func (t *Track) readSamples(tables []box, at, fileSize int64, budget int) error {
	size, err := readSizes(tables, t.ID)
	if err != nil {
		return err
	}
	if size.count == 0 {
		return nil
	}
	times, nTimes, _, err := table(tables, "stts", 8, t.ID)
	if err != nil {
		return err
	}
	s := &t.Samples
	// Uncompressed sound: a row per media sample would need gigabytes.
	if size.uniform > 0 && t.Handler == "soun" && nTimes == 1 && binary.BigEndian.Uint32(times[4:]) == 1 {
		s.Unit = size.uniform
	} else if size.count > budget {
		return tooMany(at, t.ID, size.count)
	} else if bytes := uint64(size.count) * uint64(size.uniform); bytes > 2*uint64(fileSize) {
		// Twice: a file cut off half-way still says when it ends.
		return malformed(at, "track %d claims %d samples of %d bytes in a file of %d", t.ID, size.count, size.uniform, fileSize)
	}
	if err := t.readChunks(tables, at, size, budget); err != nil {
		return err
	}
	if s.Unit > 0 {
		return nil
	}
	if err := t.readTimes(times, nTimes, at); err != nil {
		return err
	}
	if err := t.readOffsets(tables, at); err != nil {
		return err
	}
	return t.readKeys(tables)
}

// chunkTable gives the file offset of every chunk.
func chunkTable(tables []box, track uint32) (offset func(int) int64, n int, err error) {
	rows, n, _, err := table(tables, "stco", 4, track)
	if err != nil {
		return nil, 0, err
	}
	if rows != nil {
		return func(i int) int64 { return int64(binary.BigEndian.Uint32(rows[4*i:])) }, n, nil
	}
	rows, n, _, err = table(tables, "co64", 8, track)
	if err != nil {
		return nil, 0, err
	}
	return func(i int) int64 { return int64(binary.BigEndian.Uint64(rows[8*i:])) }, n, nil
}

// readChunks fills Offset, Size and Entry; for chunk rows also DTS.
func (t *Track) readChunks(tables []box, at int64, size sizes, budget int) error {
	offset, chunks, err := chunkTable(tables, t.ID)
	if err != nil {
		return err
	}
	runs, nRuns, _, err := table(tables, "stsc", 12, t.ID)
	if err != nil {
		return err
	}
	s := &t.Samples
	rows := size.count
	if s.Unit > 0 {
		rows = chunks
		if rows > budget {
			return tooMany(at, t.ID, rows)
		}
		s.DTS = make([]int64, 0, rows)
	}
	s.Offset = make([]int64, 0, rows)
	s.Size = make([]uint32, 0, rows)
	sample := 0
	for r := 0; r < nRuns && sample < size.count; r++ {
		first := int(binary.BigEndian.Uint32(runs[12*r:])) - 1
		per := int(binary.BigEndian.Uint32(runs[12*r+4:]))
		entry := int(binary.BigEndian.Uint32(runs[12*r+8:])) - 1
		last := chunks
		if r+1 < nRuns {
			last = min(last, int(binary.BigEndian.Uint32(runs[12*(r+1):]))-1)
		}
		if first < 0 || first > last || per == 0 {
			return malformed(at, "the chunk table of track %d is not in order", t.ID)
		}
		if len(t.Entries) > 0 && (entry < 0 || entry >= len(t.Entries)) || entry > 0xffff {
			return malformed(at, "a chunk of track %d names sample description %d of %d", t.ID, entry+1, len(t.Entries))
		}
		if entry > 0 && s.Entry == nil {
			s.Entry = make([]uint16, len(s.Offset), rows)
		}
		for c := first; c < last && sample < size.count; c++ {
			pos := offset(c)
			if pos < 0 || pos > 1<<62 {
				return malformed(at, "a chunk of track %d lies at byte %d", t.ID, pos)
			}
			if s.Unit > 0 {
				n := min(per, size.count-sample)
				bytes := uint64(n) * uint64(s.Unit)
				if bytes > 1<<31 {
					return malformed(at, "a chunk of track %d claims %d bytes", t.ID, bytes)
				}
				s.Offset = append(s.Offset, pos)
				s.Size = append(s.Size, uint32(bytes))
				s.DTS = append(s.DTS, int64(sample))
				if s.Entry != nil {
					s.Entry = append(s.Entry, uint16(entry))
				}
				sample += n
				continue
			}
			for range min(per, size.count-sample) {
				n := size.at(sample)
				s.Offset = append(s.Offset, pos)
				s.Size = append(s.Size, n)
				if s.Entry != nil {
					s.Entry = append(s.Entry, uint16(entry))
				}
				pos += int64(n)
				sample++
			}
		}
	}
	if sample < size.count {
		return malformed(at, "track %d has %d samples and chunks for %d", t.ID, size.count, sample)
	}
	if s.Unit > 0 {
		s.End = int64(sample)
	}
	return nil
}

// readTimes fills DTS and End.
func (t *Track) readTimes(rows []byte, n int, at int64) error {
	s := &t.Samples
	s.DTS = make([]int64, 0, len(s.Offset))
	now := int64(0)
	for r := 0; r < n && len(s.DTS) < len(s.Offset); r++ {
		count := int(binary.BigEndian.Uint32(rows[8*r:]))
		delta := int64(binary.BigEndian.Uint32(rows[8*r+4:]))
		for range min(count, len(s.Offset)-len(s.DTS)) {
			s.DTS = append(s.DTS, now)
			now += delta
		}
	}
	if len(s.DTS) < len(s.Offset) {
		return malformed(at, "track %d has %d samples and times for %d", t.ID, len(s.Offset), len(s.DTS))
	}
	s.End = now
	return nil
}

// readOffsets fills CTS. Version 0 holds unsigned numbers by the standard, yet
// writers put negative ones there, too; no film has an offset over 2^31.
func (t *Track) readOffsets(tables []box, at int64) error {
	s := &t.Samples
	rows, n, _, err := table(tables, "ctts", 8, t.ID)
	if err != nil || rows == nil {
		return err
	}
	s.CTS = make([]int32, 0, len(s.Offset))
	zero := true
	for r := 0; r < n && len(s.CTS) < len(s.Offset); r++ {
		count := int(binary.BigEndian.Uint32(rows[8*r:]))
		cts := int32(binary.BigEndian.Uint32(rows[8*r+4:]))
		zero = zero && cts == 0
		for range min(count, len(s.Offset)-len(s.CTS)) {
			s.CTS = append(s.CTS, cts)
		}
	}
	if zero && len(s.CTS) == len(s.Offset) {
		s.CTS = nil
		return nil
	}
	if len(s.CTS) < len(s.Offset) {
		return malformed(at, "track %d has %d samples and presentation offsets for %d", t.ID, len(s.Offset), len(s.CTS))
	}
	return nil
}

// readKeys fills Key: no table means every sample is a key.
func (t *Track) readKeys(tables []box) error {
	b, ok := find(tables, "stss")
	if !ok {
		return nil
	}
	rows, n, _, err := table(tables, "stss", 4, t.ID)
	if err != nil {
		return err
	}
	s := &t.Samples
	s.Key = make([]bool, len(s.Offset))
	for r := range n {
		i := int64(binary.BigEndian.Uint32(rows[4*r:])) - 1
		if i < 0 || i >= int64(len(s.Key)) {
			return malformed(b.at, "track %d names key frame %d of %d", t.ID, i+1, len(s.Key))
		}
		s.Key[i] = true
	}
	return nil
}
