package mp4

import "time"

// File is what the movie box of a file says.
type File struct {
	Brands    []string // major brand first; empty in QuickTime files older than brands
	Timescale uint32   // units a second of edit durations and Duration
	Duration  uint64   // in Timescale
	Created   time.Time
	Title     string // from the metadata list, "" if none
	Tracks    []*Track

	// Fragmented is true if samples also lie in fragments (movie fragments,
	// "moof"), which Read does not list: the tracks' Samples are then
	// incomplete, usually empty.
	Fragmented bool

	MoovOffset, MoovSize int64 // where the movie box lies, header included

	// Short is nil if all media data the tables name is inside the file.
	// Otherwise the file was cut off: the tables still hold, the samples that
	// end past the file's size can't be read.
	Short *Error
}

// Track is one stream.
type Track struct {
	ID        uint32
	Handler   string // "vide", "soun", "tmcd", "meta", "text"...
	Name      string // the handler's name, for people
	Timescale uint32 // units a second of Samples and of edits' media times
	Duration  uint64 // of the media, in Timescale
	Language  string // ISO 639-2, "und" if unknown
	Enabled   bool
	Matrix    Matrix
	Width     uint32 // as shown, 16.16 fixed point, before the matrix
	Height    uint32
	Volume    uint16 // 8.8 fixed point
	Edits     []Edit // empty: the media is shown from its time 0
	Entries   []SampleEntry
	Refs      []Ref
	Samples   Samples
}

// Ref is a reference from one track to others, such as a picture's "tmcd".
type Ref struct {
	Kind   string
	Tracks []uint32
}

// Edit shows a stretch of the media, or nothing for a while.
type Edit struct {
	Duration  uint64 // in the movie's Timescale; 0 in a last edit: to the end
	MediaTime int64  // in the track's Timescale; -1: nothing is shown
	Rate      int32  // 16.16 fixed point; 0x10000 is normal
}

// Matrix turns and places the picture: a, b, u, c, d, v, x, y, w as stored;
// u, v, w in 2.30 fixed point and the others in 16.16.
type Matrix [9]int32

// Identity is the matrix that leaves the picture as it is.
var Identity = Matrix{0x10000, 0, 0, 0, 0x10000, 0, 0, 0, 0x40000000}

// Rotation is the clockwise turn in degrees to apply when showing: 0, 90, 180
// or 270; ok is false for any other matrix (mirrored, scaled, sheared).
func (m Matrix) Rotation() (degrees int, ok bool) {
	const one = 0x10000
	switch [4]int32{m[0], m[1], m[3], m[4]} {
	case [4]int32{one, 0, 0, one}:
		return 0, true
	case [4]int32{0, one, -one, 0}:
		return 90, true
	case [4]int32{-one, 0, 0, -one}:
		return 180, true
	case [4]int32{0, -one, one, 0}:
		return 270, true
	}
	return 0, false
}

// SampleEntry describes how samples are coded.
type SampleEntry struct {
	Type   string // "avc1", "hvc1", "mp4a"...
	Raw    []byte // the whole box, header included, to be copied as it is
	Width  int    // stored picture size, video only
	Height int
}

// Samples is the table of a track's samples in decode order, one column per
// field. Tracks whose samples are tiny and alike (uncompressed sound) hold one
// row per chunk instead: see Unit.
type Samples struct {
	Offset []int64  // bytes from the start of the file
	Size   []uint32 // bytes
	DTS    []int64  // decode time in the track's Timescale, from 0
	CTS    []int32  // presentation minus decode time; nil: all 0
	Key    []bool   // nil: every sample can be decoded by itself
	Entry  []uint16 // index into Track.Entries; nil: all 0
	End    int64    // DTS of the last sample plus its duration

	// Unit is 0, or the bytes of one media sample where every row stands for a
	// chunk of Size/Unit media samples, each one unit of Timescale long.
	Unit uint32
}

// Len is the number of rows.
func (s *Samples) Len() int { return len(s.Offset) }

// PTS is the presentation time of row i in the track's Timescale, before edits.
func (s *Samples) PTS(i int) int64 {
	if s.CTS == nil {
		return s.DTS[i]
	}
	return s.DTS[i] + int64(s.CTS[i])
}

// IsKey says whether row i can be decoded by itself.
func (s *Samples) IsKey(i int) bool { return s.Key == nil || s.Key[i] }

// EntryOf is the index of row i's sample entry.
func (s *Samples) EntryOf(i int) int {
	if s.Entry == nil {
		return 0
	}
	return int(s.Entry[i])
}

// Duration is row i's decode duration in the track's Timescale.
func (s *Samples) Duration(i int) int64 {
	if i+1 < len(s.DTS) {
		return s.DTS[i+1] - s.DTS[i]
	}
	return s.End - s.DTS[i]
}

// Video is the first picture track with samples that is not a still cover,
// nil if there is none.
func (f *File) Video() *Track { return f.first("vide") }

// Audio is the first sound track, nil if there is none.
func (f *File) Audio() *Track { return f.first("soun") }

func (f *File) first(handler string) *Track {
	for _, t := range f.Tracks {
		if t.Handler == handler && (f.Fragmented || t.Samples.Len() > 0) {
			return t
		}
	}
	return nil
}
