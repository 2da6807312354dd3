package clip

import (
	"fmt"
	"io"
	"math"
	"math/bits"
	"sort"

	"whistlecut/timeline/footage/mp4"
)

// primingSeconds is how much sound is copied before the clip's start and hidden
// by an edit list, so that the decoder has settled where the sound is heard:
// at least one packet. Opus asks for 80 ms (RFC 7845, 4.6); AAC needs the
// packet before (ISO/IEC 14496-3, overlapping windows).
func primingSeconds(entry string) float64 {
	if entry == "Opus" {
		return 0.08
	}
	return 0
}

// sound copies what is heard between two times of the movie's clock, given in
// the picture's units. It returns nil if nothing is heard between them.
func (s *Source) sound(t *mp4.Track, src io.ReaderAt, from, to int64, movieScale uint32) (*mp4.OutTrack, error) {
	p, err := readEdits(s.film, t)
	if err != nil {
		return nil, err
	}
	table := &t.Samples
	delay := int64(mp4.Rescale(p.delay, s.film.Timescale, t.Timescale))
	// Media times of the clip's ends; the first may lie before all sound.
	a := scaleTime(from, s.frames.scale, t.Timescale) - delay + p.from
	b := scaleTime(to, s.frames.scale, t.Timescale) - delay + p.from
	heardEnd := table.End
	if p.to > 0 {
		heardEnd = min(heardEnd, p.to)
	}
	heardFrom, heardTo := max(a, p.from, 0), min(b, heardEnd)
	if heardTo <= heardFrom || table.Len() == 0 {
		return nil, nil
	}
	out := &mp4.OutTrack{
		Handler: t.Handler, Name: t.Name, Timescale: t.Timescale, Language: t.Language,
		Entries: t.Entries, Unit: table.Unit,
	}
	if table.Unit > 0 {
		s.units(out, table, src, heardFrom, heardTo)
	} else {
		s.packets(out, t, src, heardFrom, heardTo)
	}
	if len(out.Samples) == 0 {
		return nil, nil
	}
	start := heardFrom
	if table.Unit == 0 {
		start = heardFrom - s.firstDTS(t, heardFrom)
	} else {
		start = 0
	}
	if heardFrom > a { // the sound starts later than the picture
		out.Edits = append(out.Edits, mp4.Edit{Duration: uint64(scaleTime(heardFrom-a, t.Timescale, movieScale)), MediaTime: -1, Rate: 0x10000})
	}
	out.Edits = append(out.Edits, mp4.Edit{Duration: uint64(scaleTime(heardTo-heardFrom, t.Timescale, movieScale)), MediaTime: start, Rate: 0x10000})
	return out, nil
}

// firstRow is the first packet to copy for sound heard from that media time on.
func firstRow(t *mp4.Track, from int64) int {
	table := &t.Samples
	row := sort.Search(table.Len(), func(i int) bool { return table.DTS[i] > from }) - 1
	row = max(row, 0)
	prime := int64(primingSeconds(t.Entries[table.EntryOf(row)].Type) * float64(t.Timescale))
	first := max(row-1, 0)
	for first > 0 && table.DTS[first] > from-prime {
		first--
	}
	for first > 0 && !table.IsKey(first) {
		first--
	}
	return first
}

func (s *Source) firstDTS(t *mp4.Track, from int64) int64 { return t.Samples.DTS[firstRow(t, from)] }

func (s *Source) packets(out *mp4.OutTrack, t *mp4.Track, src io.ReaderAt, from, to int64) {
	table := &t.Samples
	for i := firstRow(t, from); i < table.Len() && table.DTS[i] < to; i++ {
		d := table.Duration(i)
		out.Samples = append(out.Samples, mp4.OutSample{
			Src: src, Offset: table.Offset[i], Size: table.Size[i], Duration: uint32(d),
			Key: table.IsKey(i), Entry: table.EntryOf(i),
		})
	}
}

// units copies uncompressed sound, exactly what is heard.
func (s *Source) units(out *mp4.OutTrack, table *mp4.Samples, src io.ReaderAt, from, to int64) {
	for i := range table.Len() {
		n := int64(table.Size[i] / table.Unit)
		a, b := max(from, table.DTS[i]), min(to, table.DTS[i]+n)
		if b <= a {
			continue
		}
		out.Samples = append(out.Samples, mp4.OutSample{
			Src: src, Offset: table.Offset[i] + (a-table.DTS[i])*int64(table.Unit),
			Size: uint32(b-a) * table.Unit, Duration: uint32(b - a), Key: true, Entry: table.EntryOf(i),
		})
	}
}

// scaleTime turns a time from one timescale into another, rounding to nearest;
// times may be negative.
func scaleTime(v int64, from, to uint32) int64 {
	if v < 0 {
		return -scaleTime(-v, from, to)
	}
	hi, lo := bits.Mul64(uint64(v), uint64(to))
	lo, carry := bits.Add64(lo, uint64(from)/2, 0)
	hi += carry
	if hi >= uint64(from) {
		return math.MaxInt64
	}
	q, _ := bits.Div64(hi, lo, uint64(from))
	return int64(min(q, math.MaxInt64))
}

// dropped lists, for people, the tracks that a clip does not keep.
func (s *Source) dropped() []string {
	var out []string
	for _, t := range s.film.Tracks {
		if t == s.video || t.Handler == "soun" {
			continue
		}
		kind := map[string]string{"tmcd": "time code", "meta": "telemetry", "vide": "second picture", "text": "text", "sbtl": "subtitles", "hint": "hints"}[t.Handler]
		if kind == "" {
			kind = "data"
		}
		name := t.Name
		if len(t.Entries) > 0 {
			name = t.Entries[0].Type
		}
		out = append(out, fmt.Sprintf("%s (%s)", kind, name))
	}
	return out
}
