package clip

import (
	"io"
	"os"

	"whistlecut/timeline/footage/mp4"
)

// encoded is what the encoder made: its frames, heads first, and where their
// bytes are.
type encoded struct {
	src    io.ReaderAt
	units  []unit
	sets   paramSets
	splice *splice // what they were rewritten with, nil if they were not
}

// assemble lays out the clip: encoded head, copied middle, encoded tail, the
// sound beside them. turned is set where ffmpeg has turned the picture upright.
func (s *Source) assemble(p plan, e encoded, file *os.File, first, last int, turned bool) (*mp4.Movie, error) {
	f, table := s.frames, &s.video.Samples
	t := &mp4.OutTrack{
		Handler: "vide", Name: s.video.Name, Timescale: f.scale, Language: s.video.Language,
		Matrix: s.video.Matrix, Width: s.video.Width, Height: s.video.Height,
	}
	coded, copied, err := s.entries(t, p, e, turned)
	if err != nil {
		return nil, err
	}
	// The copied part is decoded ahead of being shown by the key frame's
	// delay; the encoded parts follow it.
	delay := int64(0)
	if p.key >= 0 {
		delay = table.PTS(p.key) - table.DTS[p.key]
	}
	origin := f.pts[first]
	l := layout{track: t, delay: delay}
	for i := range p.head.len() {
		u := e.units[i]
		l.add(mp4.OutSample{Src: e.src, Offset: u.offset, Size: u.size, Key: u.key, Entry: coded}, f.pts[p.head.first+i]-origin, f.pts[p.head.first+i]-origin)
	}
	for i, row := range p.rows {
		o := mp4.OutSample{Src: file, Offset: table.Offset[row], Size: table.Size[row], Key: table.IsKey(row), Entry: copied}
		if i == 0 && p.head.len() > 0 {
			if err := s.startOfCopy(&o, file, row); err != nil {
				return nil, err
			}
		}
		l.add(o, f.pts[f.shown[row]]-origin, table.DTS[row]+delay-origin)
	}
	for i := range p.tail.len() {
		u := e.units[p.head.len()+i]
		pts := f.pts[p.tail.first+i] - origin
		l.add(mp4.OutSample{Src: e.src, Offset: u.offset, Size: u.size, Key: u.key, Entry: coded}, pts, pts)
	}
	length := f.endOf(last) - origin
	l.finish(f.endOf(last) - f.pts[last])
	t.Edits = []mp4.Edit{{Duration: uint64(length), MediaTime: delay, Rate: 0x10000}}

	m := &mp4.Movie{Timescale: f.scale, Tracks: []*mp4.OutTrack{t}, Brands: s.brands()}
	for _, a := range s.film.Tracks {
		if a.Handler != "soun" || len(a.Entries) == 0 {
			continue
		}
		out, err := s.sound(a, file, f.start+f.pts[first], f.start+f.endOf(last), f.scale)
		if err != nil {
			return nil, err
		}
		if out != nil {
			m.Tracks = append(m.Tracks, out)
		}
	}
	return m, nil
}

// brands keeps QuickTime's own brand, by which players know how to read its
// older sound descriptions.
func (s *Source) brands() []string {
	if len(s.film.Brands) == 0 || s.film.Brands[0] == "qt  " {
		return []string{"qt  ", "qt  "}
	}
	return []string{"isom", "isom", "iso2", "mp41"}
}

// entries chooses the sample descriptions and says which ones the encoded and
// the copied samples have.
func (s *Source) entries(t *mp4.OutTrack, p plan, e encoded, turned bool) (coded, copied int, err error) {
	if p.key >= 0 {
		src := s.video.Entries[s.video.Samples.EntryOf(p.key)]
		if len(e.units) == 0 {
			t.Entries = []mp4.SampleEntry{src}
			return 0, 0, nil
		}
		t.Entries, coded, copied, err = s.codec.join(src, e.sets, e.splice)
		return coded, copied, err
	}
	c := s.codec
	if c == nil {
		c = &avc{}
	}
	kind, box, config, err := c.alone(e.sets)
	if err != nil {
		return 0, 0, err
	}
	src := s.video.Entries[0]
	w, h := src.Width+src.Width%2, src.Height+src.Height%2
	if deg, _ := s.video.Matrix.Rotation(); turned {
		if deg == 90 || deg == 270 {
			w, h = h, w
		}
		t.Matrix, t.Width, t.Height = mp4.Identity, uint32(w)<<16, uint32(h)<<16
	}
	inner := [][]byte{mp4.Box(box, config)}
	for _, keep := range []string{"colr", "pasp"} { // colours, shape of a pixel
		if b := src.Config(keep); b != nil && !turned {
			inner = append(inner, mp4.Box(keep, b))
		}
	}
	t.Entries = []mp4.SampleEntry{mp4.VisualEntry(kind, w, h, inner...)}
	return 0, 0, nil
}

// startOfCopy puts the film's parameter sets before its first copied frame,
// where the coding needs it.
func (s *Source) startOfCopy(o *mp4.OutSample, file *os.File, row int) error {
	sets := s.codec.parameterSets()
	if len(sets) == 0 {
		return nil
	}
	sample, err := s.read(file, row)
	if err != nil {
		return err
	}
	var b []byte
	for _, set := range sets {
		b = appendNAL(b, set, s.codec.lengthSize())
	}
	b = append(b, sample...)
	o.Src, o.Offset, o.Size = mp4.Bytes(b), 0, uint32(len(b))
	return nil
}

// layout gathers samples with their times and turns them into durations.
type layout struct {
	track *mp4.OutTrack
	delay int64
	dts   []int64
}

// add appends a sample to be shown at pts and decoded at dts, both counted from
// the clip's first frame, the delay not included.
func (l *layout) add(o mp4.OutSample, pts, dts int64) {
	if n := len(l.dts); n > 0 {
		// Tails of films with a variable rate may fall behind the copy.
		dts = max(dts, l.dts[n-1]+1)
	}
	o.CTS = int32(pts + l.delay - dts)
	l.dts = append(l.dts, dts)
	l.track.Samples = append(l.track.Samples, o)
}

func (l *layout) finish(lastDuration int64) {
	n := len(l.dts)
	for i := range n - 1 {
		l.track.Samples[i].Duration = uint32(l.dts[i+1] - l.dts[i])
	}
	l.track.Samples[n-1].Duration = uint32(max(lastDuration, 1))
}
