package footage

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"whistlecut/timeline/footage/mp4"
)

// rewriteEdits writes the picture of a film with another edit list.
func rewriteEdits(t *testing.T, source string, edits func(t *mp4.Track) []mp4.Edit) string {
	t.Helper()
	in, err := os.Open(source)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	st, err := in.Stat()
	if err != nil {
		t.Fatal(err)
	}
	file, err := mp4.Read(in, st.Size())
	if err != nil {
		t.Fatal(err)
	}
	v := file.Video()
	out := &mp4.OutTrack{
		Handler: v.Handler, Timescale: v.Timescale, Matrix: v.Matrix, Width: v.Width, Height: v.Height,
		Edits: edits(v), Entries: v.Entries,
	}
	for i := range v.Samples.Len() {
		s := &v.Samples
		out.Samples = append(out.Samples, mp4.OutSample{
			Src: in, Offset: s.Offset[i], Size: s.Size[i], Duration: uint32(s.Duration(i)), CTS: int32(s.PTS(i) - s.DTS[i]), Key: s.IsKey(i),
		})
	}
	path := filepath.Join(t.TempDir(), "edited.mp4")
	dst, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	movie := &mp4.Movie{Timescale: v.Timescale, Tracks: []*mp4.OutTrack{out}}
	if _, err := movie.WriteTo(dst); err != nil {
		t.Fatal(err)
	}
	if err := dst.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestEditLists compares edit lists of several forms with what ffmpeg shows.
func TestEditLists(t *testing.T) {
	const one = 0x10000
	tests := []struct {
		name  string
		film  string
		edits func(second int64, start int64) []mp4.Edit // start: time of the first picture
	}{
		{"none", "closed", func(_, _ int64) []mp4.Edit { return nil }},
		{"whole", "bframes", func(s, at int64) []mp4.Edit { return []mp4.Edit{{Duration: uint64(4 * s), MediaTime: at, Rate: one}} }},
		{"a pause first", "bframes", func(s, at int64) []mp4.Edit {
			return []mp4.Edit{{Duration: uint64(s / 2), MediaTime: -1, Rate: one}, {Duration: uint64(3 * s), MediaTime: at, Rate: one}}
		}},
		{"from within a group to within a group", "closed", func(s, at int64) []mp4.Edit {
			return []mp4.Edit{{Duration: uint64(s), MediaTime: at + s/3, Rate: one}}
		}},
		{"two stretches at key frames", "closed", func(s, at int64) []mp4.Edit {
			return []mp4.Edit{{Duration: uint64(s), MediaTime: at, Rate: one}, {Duration: uint64(s), MediaTime: at + 2*s, Rate: one}}
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := rewriteEdits(t, film(t, tt.film), func(v *mp4.Track) []mp4.Edit {
				start := v.Samples.PTS(0)
				for i := range v.Samples.Len() {
					start = min(start, v.Samples.PTS(i))
				}
				return tt.edits(int64(v.Timescale), start)
			})
			info, err := Probe(t.Context(), runner, path)
			if err != nil {
				t.Fatal(err)
			}
			x, err := ReadIndex(t.Context(), runner, path, info)
			if err != nil {
				t.Fatal(err)
			}
			pts, _ := shownTimes(t, path)
			if !slices.Equal(x.pts, pts) {
				t.Errorf("%d frames\n%v\nffmpeg shows %d\n%v", x.Len(), x.pts, len(pts), pts)
			}
		})
	}
}

func TestStretchesRefuseWhatTheyCannotShow(t *testing.T) {
	file := &mp4.File{Timescale: 1000}
	for name, edits := range map[string][]mp4.Edit{
		"slow motion":     {{Duration: 1000, MediaTime: 0, Rate: 0x8000}},
		"no length":       {{Duration: 0, MediaTime: 0, Rate: 0x10000}},
		"only a pause":    {{Duration: 1000, MediaTime: -1, Rate: 0x10000}},
		"an endless edit": {{Duration: 1 << 63, MediaTime: 0, Rate: 0x10000}},
	} {
		if s, ok := stretchesOf(file, &mp4.Track{Timescale: 90000, Edits: edits}); ok {
			t.Errorf("%s: got %v", name, s)
		}
	}
}

// zeros stands for media data that nobody decodes.
type zeros struct{}

func (zeros) ReadAt(p []byte, _ int64) (int, error) { clear(p); return len(p), nil }

// hour writes an MP4 with the tables of an hour at 30 frames a second with
// reordered pictures, and of its sound. Samples are a few bytes: only their
// tables are read.
func hour(t testing.TB) string {
	t.Helper()
	f, err := mp4.Open(film(t, "bframes"))
	if err != nil {
		t.Fatal(err)
	}
	v, a := f.Video(), f.Audio()
	picture := &mp4.OutTrack{
		Handler: "vide", Timescale: 30000, Width: v.Width, Height: v.Height, Entries: v.Entries,
		Edits: []mp4.Edit{{Duration: 108000 * 1001, MediaTime: 2002, Rate: 0x10000}},
	}
	for i := range 108000 {
		cts := []int32{2002, 4004, 1001, 1001}[i%4]
		if i%30 == 0 {
			cts = 2002
		}
		picture.Samples = append(picture.Samples, mp4.OutSample{Src: zeros{}, Size: uint32(5 + i%7), Duration: 1001, CTS: cts, Key: i%30 == 0})
	}
	heard := &mp4.OutTrack{Handler: "soun", Timescale: 48000, Entries: a.Entries}
	for i := range 168750 {
		heard.Samples = append(heard.Samples, mp4.OutSample{Src: zeros{}, Size: uint32(3 + i%3), Duration: 1024, Key: true})
	}
	path := filepath.Join(t.TempDir(), "hour.mp4")
	dst, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := (&mp4.Movie{Timescale: 30000, Tracks: []*mp4.OutTrack{picture, heard}}).WriteTo(struct{ io.Writer }{dst}); err != nil {
		t.Fatal(err)
	}
	if err := dst.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// BenchmarkIndexHour reads the index of an hour's film from its tables. The aim
// is well under a second.
func BenchmarkIndexHour(b *testing.B) {
	path := hour(b)
	for b.Loop() {
		x, err := indexFromTables(path, Video{ID: 1})
		if err != nil || x.Len() < 107000 {
			b.Fatal(x.Len(), err)
		}
	}
}

// BenchmarkKeptIndexHour reads the same index from the cache.
func BenchmarkKeptIndexHour(b *testing.B) {
	x, err := indexFromTables(hour(b), Video{ID: 1})
	if err != nil {
		b.Fatal(err)
	}
	dir := b.TempDir()
	if err := storeIndex(dir, "1-0-hour", x); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if y, err := loadIndex(dir, "1-0-hour"); err != nil || y.Len() != x.Len() {
			b.Fatal(err)
		}
	}
}

func BenchmarkFrameAt(b *testing.B) {
	x, err := indexFromTables(hour(b), Video{ID: 1})
	if err != nil {
		b.Fatal(err)
	}
	at := x.Duration() / 3
	for b.Loop() {
		x.FrameAt(at)
	}
}
