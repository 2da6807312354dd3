package mp4

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"time"
)

// Movie is a file to be written.
type Movie struct {
	Brands    []string // major brand first; empty: isom, iso2, mp41
	Timescale uint32   // of edit durations; 0: the first track's
	Created   time.Time
	Title     string
	Tracks    []*OutTrack
	Chapters  []Chapter // in order; none is written for an empty list

	// Check, where set, is asked between stretches of media data; its error
	// ends the writing.
	Check func() error
}

// OutTrack is a track to be written. Track IDs count from 1 in order.
type OutTrack struct {
	Handler   string // "vide", "soun" or another four-letter kind
	Name      string // for people; "" takes a usual one
	Timescale uint32
	Language  string // "" means "und"
	Matrix    Matrix // the zero value means Identity
	Width     uint32 // 16.16 fixed point
	Height    uint32
	Edits     []Edit // empty: none is written
	Entries   []SampleEntry
	Samples   []OutSample // in decode order
	Refs      []Ref       // to other tracks, by their IDs
	Disabled  bool        // players don't show it by themselves

	// Unit is as in Samples: the bytes of one media sample where every
	// OutSample stands for Duration media samples.
	Unit uint32
}

// OutSample is one sample to be written: its bytes are Size bytes of Src from
// Offset on.
type OutSample struct {
	Src      io.ReaderAt
	Offset   int64
	Size     uint32
	Duration uint32 // in the track's Timescale
	CTS      int32  // presentation minus decode time
	Key      bool
	Entry    int // index into Entries
}

// piece is one chunk of the file: consecutive samples of one track.
type piece struct {
	track, first, n int
	size            int64
}

// WriteTo writes the movie with the movie box before the media data, so that
// players can start before they have the whole file. It returns the number of
// bytes written. w gets plain sequential writes; where w and a sample's source
// are both *os.File the system copies from one to the other.
func (m *Movie) WriteTo(w io.Writer) (int64, error) {
	m = m.withChapters()
	if err := m.check(); err != nil {
		return 0, err
	}
	pieces := m.interleave()
	var media int64
	for _, p := range pieces {
		media += p.size
	}
	mdatHead := int64(8)
	if media+8 > math.MaxUint32 {
		mdatHead = 16
	}
	ftyp := m.ftyp()
	// The offsets depend on the movie box's size, and its size on whether
	// offsets need 64 bits.
	big := false
	moov := m.moov(pieces, 0, big)
	start := int64(len(ftyp)) + int64(len(moov)) + mdatHead
	if start+media > math.MaxUint32 {
		big = true
		moov = m.moov(pieces, 0, big)
		start = int64(len(ftyp)) + int64(len(moov)) + mdatHead
	}
	moov = m.moov(pieces, start, big)
	out := &counter{w: w, check: m.Check}
	head := append(ftyp, moov...)
	if mdatHead == 16 {
		head = be32(head, 1)
		head = append(head, "mdat"...)
		head = be64(head, uint64(media+16))
	} else {
		head = be32(head, uint32(media+8))
		head = append(head, "mdat"...)
	}
	if _, err := out.Write(head); err != nil {
		return out.n, err
	}
	err := m.copyMedia(out, pieces)
	return out.n, err
}

// check refuses what could only give a broken file.
func (m *Movie) check() error {
	if len(m.Tracks) == 0 {
		return errors.New("mp4: a movie needs a track")
	}
	for i, t := range m.Tracks {
		if len(t.Handler) != 4 || t.Timescale == 0 || len(t.Entries) == 0 || len(t.Samples) == 0 {
			return fmt.Errorf("mp4: track %d lacks a handler, a time scale, a sample description or samples", i+1)
		}
		for j, s := range t.Samples {
			if s.Entry < 0 || s.Entry >= len(t.Entries) || s.Src == nil {
				return fmt.Errorf("mp4: sample %d of track %d has no bytes or no sample description", j, i+1)
			}
			if t.Unit > 0 && s.Size != t.Unit*s.Duration {
				return fmt.Errorf("mp4: sample %d of track %d is not %d bytes a unit of time", j, i+1, t.Unit)
			}
		}
	}
	return nil
}

// interleave orders the samples of all tracks by time and cuts them into
// chunks. Where the next bytes of the same source belong to another track
// within a second, they go first: the source's own interleaving is kept and can
// be copied in long stretches.
func (m *Movie) interleave() []piece {
	type head struct {
		next int
		time int64 // of the next sample, in the track's timescale
	}
	heads := make([]head, len(m.Tracks))
	var pieces []piece
	var last OutSample
	seconds := func(t int) float64 { return float64(heads[t].time) / float64(m.Tracks[t].Timescale) }
	for {
		pick := -1
		for t := range heads {
			if heads[t].next < len(m.Tracks[t].Samples) && (pick < 0 || seconds(t) < seconds(pick)) {
				pick = t
			}
		}
		if pick < 0 {
			return pieces
		}
		soonest := seconds(pick)
		if last.Src != nil {
			for t := range heads {
				if heads[t].next >= len(m.Tracks[t].Samples) {
					continue
				}
				s := m.Tracks[t].Samples[heads[t].next]
				if s.Src == last.Src && s.Offset == last.Offset+int64(last.Size) && seconds(t) < soonest+1 {
					pick = t
				}
			}
		}
		h := &heads[pick]
		s := m.Tracks[pick].Samples[h.next]
		p := len(pieces) - 1
		if p >= 0 && pieces[p].track == pick && m.Tracks[pick].Samples[h.next-1].Entry == s.Entry {
			pieces[p].n++
			pieces[p].size += int64(s.Size)
		} else {
			pieces = append(pieces, piece{track: pick, first: h.next, n: 1, size: int64(s.Size)})
		}
		last = s
		h.next++
		h.time += int64(s.Duration)
	}
}

// copyMedia writes the samples in chunk order, joining neighbours into one
// copy.
func (m *Movie) copyMedia(out *counter, pieces []piece) error {
	var src io.ReaderAt
	var from, n int64
	flush := func() error {
		if n == 0 {
			return nil
		}
		if err := out.copyFrom(src, from, n); err != nil {
			return err
		}
		n = 0
		return nil
	}
	for _, p := range pieces {
		for _, s := range m.Tracks[p.track].Samples[p.first : p.first+p.n] {
			if n > 0 && s.Src == src && s.Offset == from+n {
				n += int64(s.Size)
				continue
			}
			if err := flush(); err != nil {
				return err
			}
			src, from, n = s.Src, s.Offset, int64(s.Size)
		}
	}
	return flush()
}

// counter counts what goes to w.
type counter struct {
	w     io.Writer
	n     int64
	buf   []byte
	check func() error
}

func (c *counter) Write(b []byte) (int, error) {
	n, err := c.w.Write(b)
	c.n += int64(n)
	return n, err
}

// stretch is how much is copied between two looks at Check.
const stretch = 16 << 20

// copyFrom writes n bytes of src from the given offset on.
func (c *counter) copyFrom(src io.ReaderAt, from, n int64) error {
	for n > 0 {
		if c.check != nil {
			if err := c.check(); err != nil {
				return err
			}
		}
		part := min(n, stretch)
		if err := c.copyPart(src, from, part); err != nil {
			return err
		}
		from += part
		n -= part
	}
	return nil
}

func (c *counter) copyPart(src io.ReaderAt, from, n int64) error {
	in, inFile := src.(*os.File)
	out, outFile := c.w.(*os.File)
	if inFile && outFile && n > 64<<10 {
		if _, err := in.Seek(from, io.SeekStart); err != nil {
			return fmt.Errorf("reading the source at byte %d: %w", from, err)
		}
		got, err := out.ReadFrom(io.LimitReader(in, n))
		c.n += got
		if err != nil {
			return err
		}
		if got < n {
			return cutOff(from + got)
		}
		return nil
	}
	if c.buf == nil {
		c.buf = make([]byte, 256<<10)
	}
	for n > 0 {
		b := c.buf[:min(n, int64(len(c.buf)))]
		got, err := src.ReadAt(b, from)
		if got < len(b) {
			if err == nil || errors.Is(err, io.EOF) {
				return cutOff(from + int64(got))
			}
			return fmt.Errorf("reading the source at byte %d: %w", from, err)
		}
		if _, err := c.Write(b); err != nil {
			return err
		}
		from += int64(got)
		n -= int64(got)
	}
	return nil
}

func cutOff(at int64) error {
	return &Error{Kind: Truncated, Offset: at, What: "the source ends in the middle of a sample", Do: doCopyAgain}
}

// Bytes is a source for samples held in memory. Use one pointer for all samples
// of one buffer, so that neighbours are copied together.
func Bytes(b []byte) io.ReaderAt { return bytes.NewReader(b) }
