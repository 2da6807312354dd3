package clip

import (
	"bytes"
	"fmt"
	"io"
)

// paramSets are a stream's parameter sets, each once.
type paramSets struct{ vps, sps, pps [][]byte }

// unit is one coded frame made by the encoder: where it lies in the spool.
type unit struct {
	offset int64
	size   uint32
	key    bool
}

// spool takes an encoder's byte stream (ITU-T H.264 and H.265, annex B) and
// writes it out frame by frame, NAL units with lengths before them. Frames are
// told apart by access unit delimiters, which the encoders are asked for.
type spool struct {
	out        io.Writer
	hevc       bool
	lengthSize int
	units      []unit
	sets       paramSets
	splice     *splice     // rewrites slices; may be nil
	frame      func(n int) // told the number of frames so far; may be nil

	rest    []byte // not yet a whole NAL unit
	pending []byte // the frame being gathered
	key     bool
	at      int64
	err     error
}

var startCode = []byte{0, 0, 1}

func (s *spool) Write(b []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	s.rest = append(s.rest, b...)
	pos := bytes.Index(s.rest, startCode)
	if pos < 0 {
		return len(b), nil
	}
	from := pos + 3
	// What was here before b has been searched already.
	search := max(from, len(s.rest)-len(b)-len(startCode))
	for {
		next := bytes.Index(s.rest[search:], startCode)
		if next < 0 {
			break
		}
		next += search
		s.nal(s.rest[from:next])
		from, pos = next+3, next
		search = from
	}
	s.rest = append(s.rest[:0], s.rest[pos:]...)
	return len(b), s.err
}

// finish takes what is left at the end of the stream.
func (s *spool) finish() error {
	if pos := bytes.Index(s.rest, startCode); pos >= 0 {
		s.nal(s.rest[pos+3:])
	}
	s.flush()
	s.rest = nil
	return s.err
}

func (s *spool) nal(n []byte) {
	n = bytes.TrimRight(n, "\x00")
	if len(n) < 2 {
		return
	}
	kind, vps, sps, pps, aud := int(n[0]&31), -1, avcSPS, avcPPS, avcAUD
	if s.hevc {
		kind, vps, sps, pps, aud = hevcType(n), hevcVPS, hevcSPS, hevcPPS, hevcAUD
	}
	add := func(list *[][]byte) {
		for _, have := range *list {
			if bytes.Equal(have, n) {
				return
			}
		}
		*list = append(*list, bytes.Clone(n))
	}
	switch kind {
	case aud:
		s.flush()
	case vps:
		add(&s.sets.vps)
	case sps:
		add(&s.sets.sps)
	case pps:
		add(&s.sets.pps)
	default:
		list := [][]byte{n}
		if s.splice != nil && s.err == nil {
			if list, s.err = s.splice.nal(n, s.sets); s.err != nil {
				return
			}
			kind = int(list[len(list)-1][0] & 31)
		}
		if s.hevc && kind >= 16 && kind <= 21 || !s.hevc && kind == avcIDR {
			s.key = true
		}
		for _, n := range list {
			s.pending = appendNAL(s.pending, n, s.lengthSize)
		}
	}
}

func appendNAL(b, n []byte, lengthSize int) []byte {
	for i := lengthSize - 1; i >= 0; i-- {
		b = append(b, byte(len(n)>>(8*i)))
	}
	return append(b, n...)
}

func (s *spool) flush() {
	if len(s.pending) == 0 || s.err != nil {
		return
	}
	if s.lengthSize < 4 && len(s.pending) >= 1<<(8*s.lengthSize) {
		s.err = fmt.Errorf("an encoded frame of %d bytes does not fit the film's %d-byte lengths", len(s.pending), s.lengthSize)
		return
	}
	if _, err := s.out.Write(s.pending); err != nil {
		s.err = err
		return
	}
	s.units = append(s.units, unit{s.at, uint32(len(s.pending)), s.key})
	s.at += int64(len(s.pending))
	s.pending, s.key = s.pending[:0], false
	if s.frame != nil {
		s.frame(len(s.units))
	}
}
