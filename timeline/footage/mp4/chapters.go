package mp4

import (
	"slices"
	"time"
	"unicode/utf8"
)

// Chapter is a mark in a movie to be written. It lasts to the next one, the
// last one to the movie's end.
type Chapter struct {
	Start time.Duration // from the movie's start
	Title string
}

// Most of the older chapter list: its count and its lengths are single bytes.
const (
	mostListed  = 255
	longestMark = 255 // bytes
)

// withChapters returns the movie with a track of titles, to which the first
// track points (QuickTime File Format, chapter lists). Players of other
// families read the list that chapterList makes; both are written.
func (m *Movie) withChapters() *Movie {
	if len(m.Chapters) == 0 || len(m.Tracks) == 0 {
		return m
	}
	const scale = 90000
	ticks := func(d time.Duration) uint64 { return Rescale(uint64(max(0, d)), uint32(time.Second), scale) }
	end := uint64(0)
	for _, t := range m.Tracks {
		end = max(end, Rescale(t.shown(m.timescale()), m.timescale(), scale))
	}
	out := *m
	first := *m.Tracks[0]
	first.Refs = append(slices.Clone(first.Refs), Ref{"chap", []uint32{uint32(len(m.Tracks) + 1)}})
	text := &OutTrack{
		Handler: "text", Name: "Chapters", Timescale: scale, Language: "und", Disabled: true,
		Entries: []SampleEntry{{Type: "text", Raw: textEntry()}},
	}
	at := uint64(0)
	for i, c := range m.Chapters {
		until := end
		if i+1 < len(m.Chapters) {
			until = ticks(m.Chapters[i+1].Start)
		}
		title := cutText(c.Title, 1<<15)
		b := append(be16(nil, uint16(len(title))), title...)
		b = append(b, wrap("encd", be32(nil, 0x100))...) // UTF-8
		text.Samples = append(text.Samples, OutSample{Src: Bytes(b), Size: uint32(len(b)), Duration: uint32(max(until, at+1) - at), Key: true})
		at = max(until, at+1)
	}
	out.Tracks = append([]*OutTrack{&first}, m.Tracks[1:]...)
	out.Tracks = append(out.Tracks, text)
	return &out
}

// cutText shortens a text to at most n bytes, at the end of a character.
func cutText(s string, n int) string {
	if len(s) <= n {
		return s
	}
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n]
}

// textEntry describes samples of plain text (QuickTime File Format, text sample
// description): nothing is drawn, so all of it is zero but the colours.
func textEntry() []byte {
	b := append(zeros(6), 0, 1)  // data reference
	b = append(b, zeros(4+4)...) // display flags, justification
	b = append(b, zeros(6+8)...) // background, text box
	b = append(b, zeros(8)...)
	b = append(b, zeros(2+2+1+2)...) // font, face
	b = append(b, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff)
	b = append(b, 0) // font's name
	return wrap("text", b)
}

// textHeader is the media header of a text track (QuickTime File Format, base
// media and text media information headers).
func textHeader() []byte {
	gmin := be16(full(0, 0), 0x40) // copy the picture
	gmin = append(gmin, 0x80, 0, 0x80, 0, 0x80, 0)
	gmin = append(gmin, zeros(4)...)
	return wrap("gmhd", wrap("gmin", gmin), wrap("text", appendMatrix(nil, Identity)))
}

// chapterList is the list of marks as many players read it (box "chpl", times
// in units of 100 ns).
func chapterList(list []Chapter) []byte {
	list = list[:min(len(list), mostListed)]
	b := append(be32(full(1, 0), 0), byte(len(list)))
	for _, c := range list {
		title := cutText(c.Title, longestMark)
		b = be64(b, uint64(max(0, c.Start)/100))
		b = append(append(b, byte(len(title))), title...)
	}
	return wrap("chpl", b)
}

// refBox lists what a track points to.
func refBox(refs []Ref) []byte {
	var parts [][]byte
	for _, r := range refs {
		var b []byte
		for _, id := range r.Tracks {
			b = be32(b, id)
		}
		parts = append(parts, wrap(r.Kind, b))
	}
	return wrap("tref", parts...)
}
