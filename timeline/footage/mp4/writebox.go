package mp4

import (
	"encoding/binary"
	"math"
)

func be16(b []byte, v uint16) []byte { return binary.BigEndian.AppendUint16(b, v) }
func be32(b []byte, v uint32) []byte { return binary.BigEndian.AppendUint32(b, v) }
func be64(b []byte, v uint64) []byte { return binary.BigEndian.AppendUint64(b, v) }

// wrap makes a box of parts.
func wrap(kind string, parts ...[]byte) []byte {
	n := 8
	for _, p := range parts {
		n += len(p)
	}
	out := be32(make([]byte, 0, n), uint32(n))
	out = append(out, kind...)
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

func full(version uint8, flags uint32) []byte { return be32(nil, uint32(version)<<24|flags) }

// zeros is n zero bytes.
func zeros(n int) []byte { return make([]byte, n) }

func (m *Movie) ftyp() []byte {
	brands := m.Brands
	if len(brands) == 0 {
		brands = []string{"isom", "isom", "iso2", "mp41"}
	}
	b := []byte(brands[0])
	b = be32(b, 512)
	for _, s := range brands[1:] {
		b = append(b, s...)
	}
	return wrap("ftyp", b)
}

func (m *Movie) timescale() uint32 {
	if m.Timescale != 0 {
		return m.Timescale
	}
	return m.Tracks[0].Timescale
}

// length is the media's length in the track's timescale.
func (t *OutTrack) length() uint64 {
	var n uint64
	for _, s := range t.Samples {
		n += uint64(s.Duration)
	}
	return n
}

// shown is the track's length on screen in the movie's timescale.
func (t *OutTrack) shown(scale uint32) uint64 {
	if len(t.Edits) == 0 {
		return Rescale(t.length(), t.Timescale, scale)
	}
	var n uint64
	for _, e := range t.Edits {
		n += e.Duration
	}
	return n
}

// Rescale turns a time from one timescale into another, rounding to nearest.
func Rescale(v uint64, from, to uint32) uint64 {
	whole, rest := v/uint64(from), v%uint64(from)
	return whole*uint64(to) + (rest*uint64(to)+uint64(from)/2)/uint64(from)
}

// timed is the versioned start of mvhd, tkhd and mdhd: version 1 only where a
// number needs 64 bits.
func timed(flags uint32, created, duration uint64, between []byte) []byte {
	if duration > math.MaxUint32 || created > math.MaxUint32 {
		b := be64(be64(full(1, flags), created), created)
		return be64(append(b, between...), duration)
	}
	b := be32(be32(full(0, flags), uint32(created)), uint32(created))
	return be32(append(b, between...), uint32(duration))
}

func (m *Movie) moov(pieces []piece, start int64, big bool) []byte {
	scale := m.timescale()
	created := uint64(0)
	if !m.Created.IsZero() {
		created = uint64(m.Created.Unix() - epoch.Unix())
	}
	var longest uint64
	for _, t := range m.Tracks {
		longest = max(longest, t.shown(scale))
	}
	mvhd := timed(0, created, longest, be32(nil, scale))
	mvhd = be32(mvhd, 0x10000) // rate 1
	mvhd = be16(mvhd, 0x100)   // volume 1
	mvhd = append(mvhd, zeros(10)...)
	mvhd = appendMatrix(mvhd, Identity)
	mvhd = append(mvhd, zeros(24)...)
	mvhd = be32(mvhd, uint32(len(m.Tracks)+1))

	offsets := make([][]int64, len(m.Tracks))
	at := start
	for _, p := range pieces {
		offsets[p.track] = append(offsets[p.track], at)
		at += p.size
	}
	parts := [][]byte{wrap("mvhd", mvhd)}
	for i, t := range m.Tracks {
		var own []piece
		for _, p := range pieces {
			if p.track == i {
				own = append(own, p)
			}
		}
		parts = append(parts, t.trak(uint32(i+1), scale, created, own, offsets[i], big))
	}
	var data [][]byte
	if m.Title != "" {
		data = append(data, titleBox(m.Title))
	}
	if len(m.Chapters) > 0 {
		data = append(data, chapterList(m.Chapters))
	}
	if len(data) > 0 {
		parts = append(parts, wrap("udta", data...))
	}
	return wrap("moov", parts...)
}

func appendMatrix(b []byte, m Matrix) []byte {
	if m == (Matrix{}) {
		m = Identity
	}
	for _, v := range m {
		b = be32(b, uint32(v))
	}
	return b
}

// titleBox is the metadata list most players read (meta/ilst/©nam in udta).
func titleBox(title string) []byte {
	hdlr := wrap("hdlr", zeros(8), []byte("mdirappl"), zeros(9))
	data := wrap("data", be32(be32(nil, 1), 0), []byte(title))
	return wrap("meta", zeros(4), hdlr, wrap("ilst", wrap("\xa9nam", data)))
}

func (t *OutTrack) trak(id, scale uint32, created uint64, pieces []piece, offsets []int64, big bool) []byte {
	flags := uint32(3) // enabled, in the movie
	if t.Disabled {
		flags = 2
	}
	tkhd := timed(flags, created, t.shown(scale), be32(be32(nil, id), 0))
	tkhd = append(tkhd, zeros(8+4)...)
	if t.Handler == "soun" {
		tkhd = be16(tkhd, 0x100)
	} else {
		tkhd = be16(tkhd, 0)
	}
	tkhd = be16(tkhd, 0)
	tkhd = appendMatrix(tkhd, t.Matrix)
	tkhd = be32(be32(tkhd, t.Width), t.Height)

	parts := [][]byte{wrap("tkhd", tkhd)}
	if len(t.Edits) > 0 {
		parts = append(parts, wrap("edts", editBox(t.Edits)))
	}
	if len(t.Refs) > 0 {
		parts = append(parts, refBox(t.Refs))
	}
	mdhd := timed(0, created, t.length(), be32(nil, t.Timescale))
	mdhd = be16(be16(mdhd, packLanguage(t.Language)), 0)

	name := t.Name
	media := wrap("nmhd", full(0, 0))
	switch t.Handler {
	case "vide":
		media = wrap("vmhd", full(0, 1), zeros(8))
		name = orName(name, "VideoHandler")
	case "soun":
		media = wrap("smhd", full(0, 0), zeros(4))
		name = orName(name, "SoundHandler")
	case "text":
		media = textHeader()
	}
	hdlr := append(zeros(8), t.Handler...)
	hdlr = append(hdlr, zeros(12)...)
	hdlr = append(append(hdlr, name...), 0)

	dinf := wrap("dinf", wrap("dref", full(0, 0), be32(nil, 1), wrap("url ", full(0, 1))))
	parts = append(parts, wrap(
		"mdia", wrap("mdhd", mdhd), wrap("hdlr", hdlr),
		wrap("minf", media, dinf, t.stbl(pieces, offsets, big)),
	))
	return wrap("trak", parts...)
}

func orName(name, usual string) string {
	if name != "" {
		return name
	}
	return usual
}

func editBox(edits []Edit) []byte {
	version := uint8(0)
	for _, e := range edits {
		if e.Duration > math.MaxUint32 || e.MediaTime > math.MaxInt32 {
			version = 1
		}
	}
	b := be32(full(version, 0), uint32(len(edits)))
	for _, e := range edits {
		if version == 1 {
			b = be64(be64(b, e.Duration), uint64(e.MediaTime))
		} else {
			b = be32(be32(b, uint32(e.Duration)), uint32(int32(e.MediaTime)))
		}
		rate := e.Rate
		if rate == 0 {
			rate = 0x10000
		}
		b = be32(b, uint32(rate))
	}
	return wrap("elst", b)
}
