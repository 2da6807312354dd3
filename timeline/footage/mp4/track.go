package mp4

import (
	"bytes"
	"encoding/binary"
	"strings"
)

// readTrack reads one track box; nil for a track without media.
func readTrack(trak box, fileSize int64, budget int) (*Track, error) {
	kids, err := trak.children()
	if err != nil {
		return nil, err
	}
	mdia, ok := find(kids, "mdia")
	if !ok {
		return nil, nil
	}
	t := &Track{Language: "und", Matrix: Identity}
	if err := t.readHeader(kids, trak.at); err != nil {
		return nil, err
	}
	if err := t.readEdits(kids); err != nil {
		return nil, err
	}
	if tref, ok := find(kids, "tref"); ok {
		refs, err := tref.children()
		if err != nil {
			return nil, err
		}
		for _, r := range refs {
			ref := Ref{Kind: r.kind}
			for i := 0; i+4 <= len(r.data); i += 4 {
				ref.Tracks = append(ref.Tracks, binary.BigEndian.Uint32(r.data[i:]))
			}
			t.Refs = append(t.Refs, ref)
		}
	}
	media, err := mdia.children()
	if err != nil {
		return nil, err
	}
	if err := t.readMedia(media, mdia.at); err != nil {
		return nil, err
	}
	stbl, ok, err := path(media, "minf", "stbl")
	if err != nil {
		return nil, err
	}
	if !ok {
		return t, nil
	}
	tables, err := stbl.children()
	if err != nil {
		return nil, err
	}
	if err := t.readEntries(tables); err != nil {
		return nil, err
	}
	return t, t.readSamples(tables, stbl.at, fileSize, budget)
}

func (t *Track) readHeader(kids []box, at int64) error {
	tkhd, ok := find(kids, "tkhd")
	if !ok {
		return malformed(at, "a track has no header")
	}
	f := fields{data: tkhd.data}
	v, flags := f.versioned()
	t.Enabled = flags&1 != 0
	f.wide(v)
	f.wide(v)
	t.ID = f.u32()
	f.skip(4)
	f.wide(v)
	f.skip(8 + 2 + 2)
	t.Volume = f.u16()
	f.skip(2)
	for i := range t.Matrix {
		t.Matrix[i] = int32(f.u32())
	}
	t.Width, t.Height = f.u32(), f.u32()
	if f.short {
		return malformed(tkhd.at, "a track header is too short")
	}
	return nil
}

func (t *Track) readEdits(kids []box) error {
	elst, ok, err := path(kids, "edts", "elst")
	if err != nil || !ok {
		return err
	}
	f := fields{data: elst.data}
	v, _ := f.versioned()
	n := uint64(f.u32())
	each := uint64(12)
	if v == 1 {
		each = 20
	}
	if f.short || n > uint64(len(f.data)-f.pos)/each {
		return malformed(elst.at, "the edit list of track %d claims %d edits and is shorter", t.ID, n)
	}
	t.Edits = make([]Edit, n)
	for i := range t.Edits {
		e := &t.Edits[i]
		e.Duration = f.wide(v)
		if v == 1 {
			e.MediaTime = int64(f.u64())
		} else {
			e.MediaTime = int64(int32(f.u32()))
		}
		e.Rate = int32(f.u32())
	}
	return nil
}

func (t *Track) readMedia(media []box, at int64) error {
	mdhd, ok := find(media, "mdhd")
	if !ok {
		return malformed(at, "track %d has no media header", t.ID)
	}
	f := fields{data: mdhd.data}
	v, _ := f.versioned()
	f.wide(v)
	f.wide(v)
	t.Timescale = f.u32()
	t.Duration = f.wide(v)
	lang := f.u16()
	if f.short || t.Timescale == 0 {
		return malformed(mdhd.at, "the media header of track %d is too short or has no time scale", t.ID)
	}
	t.Language = language(lang)
	hdlr, ok := find(media, "hdlr")
	if !ok {
		return malformed(at, "track %d has no handler", t.ID)
	}
	f = fields{data: hdlr.data}
	f.versioned()
	f.skip(4)
	t.Handler = string(f.take(4))
	f.skip(12)
	if f.short {
		return malformed(hdlr.at, "the handler of track %d is too short", t.ID)
	}
	name := f.data[f.pos:]
	if n := len(name); n > 0 && int(name[0]) == n-1 { // QuickTime counts its strings
		name = name[1:]
	}
	name, _, _ = bytes.Cut(name, []byte{0})
	t.Name = strings.ToValidUTF8(string(name), "")
	return nil
}

// language unpacks three five-bit letters; QuickTime's older numbers and
// anything else unpack to "und".
func language(packed uint16) string {
	if packed < 0x400 || packed == 0x7fff {
		return "und"
	}
	b := [3]byte{byte(packed>>10&31) + 0x60, byte(packed>>5&31) + 0x60, byte(packed&31) + 0x60}
	for _, c := range b {
		if c < 'a' || c > 'z' {
			return "und"
		}
	}
	return string(b[:])
}

func packLanguage(s string) uint16 {
	if len(s) != 3 {
		s = "und"
	}
	var v uint16
	for i := range 3 {
		if s[i] < 'a' || s[i] > 'z' {
			return packLanguage("und")
		}
		v = v<<5 | uint16(s[i]-0x60)
	}
	return v
}

// readEntries reads the sample descriptions.
func (t *Track) readEntries(tables []box) error {
	stsd, ok := find(tables, "stsd")
	if !ok {
		return nil
	}
	if len(stsd.data) < 8 {
		return malformed(stsd.at, "the sample descriptions of track %d are cut off", t.ID)
	}
	in, err := split(stsd.data[8:], stsd.at+8)
	if err != nil {
		return err
	}
	for _, b := range in {
		e := SampleEntry{Type: b.kind}
		head := 8
		start := int(b.at-stsd.at) - head
		if start >= 0 && binary.BigEndian.Uint32(stsd.data[start:]) != uint32(len(b.data)+8) {
			head = 16
			start -= 8
		}
		if start < 0 {
			return malformed(b.at, "a sample description of track %d has a broken header", t.ID)
		}
		e.Raw = append([]byte(nil), stsd.data[start:start+head+len(b.data)]...)
		if t.Handler == "vide" && len(b.data) >= 28 {
			e.Width = int(binary.BigEndian.Uint16(b.data[24:]))
			e.Height = int(binary.BigEndian.Uint16(b.data[26:]))
		}
		t.Entries = append(t.Entries, e)
	}
	return nil
}

// visualHead is the size of a visual sample entry before its inner boxes,
// header included.
const visualHead = 8 + 8 + 70

// Config returns the payload of the inner box of that kind of a picture
// entry ("avcC", "hvcC", "colr"...), nil if there is none.
func (e SampleEntry) Config(kind string) []byte {
	for _, b := range e.inner() {
		if b.kind == kind {
			return b.data
		}
	}
	return nil
}

// inner lists the boxes inside a picture entry.
func (e SampleEntry) inner() []box {
	if len(e.Raw) < visualHead {
		return nil
	}
	in, err := split(e.Raw[visualHead:], visualHead)
	if err != nil {
		return nil
	}
	return in
}

// WithConfig returns a copy of a picture entry with the inner box of that kind
// replaced or, if there is none, added at the end.
func (e SampleEntry) WithConfig(kind string, payload []byte) SampleEntry {
	raw := append([]byte(nil), e.Raw[:min(visualHead, len(e.Raw))]...)
	done := false
	for _, b := range e.inner() {
		data := b.data
		if b.kind == kind {
			if done {
				continue
			}
			data, done = payload, true
		}
		raw = append(raw, wrap(b.kind, data)...)
	}
	if !done {
		raw = append(raw, wrap(kind, payload)...)
	}
	binary.BigEndian.PutUint32(raw, uint32(len(raw)))
	e.Raw = raw
	return e
}

// VisualEntry makes a picture entry of that type and stored size in pixels with
// the given inner boxes, one after the other.
func VisualEntry(kind string, width, height int, inner ...[]byte) SampleEntry {
	b := zeros(6)
	b = be16(b, 1) // data reference
	b = append(b, zeros(16)...)
	b = be16(be16(b, uint16(width)), uint16(height))
	b = be32(be32(b, 72<<16), 72<<16) // dots an inch, a fixed value
	b = be32(b, 0)
	b = be16(b, 1) // frames a sample
	b = append(b, zeros(32)...)
	b = be16(be16(b, 24), 0xffff) // depth, no colour table
	return SampleEntry{Type: kind, Width: width, Height: height, Raw: wrap(kind, append([][]byte{b}, inner...)...)}
}

// Box makes a box from its kind and payload.
func Box(kind string, payload []byte) []byte { return wrap(kind, payload) }
