package mp4

import (
	"bytes"
	"encoding/hex"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// smallest is a picture track of two samples.
func smallest() *Movie {
	src := Bytes([]byte("onetwo!"))
	return &Movie{
		Timescale: 1000,
		Tracks: []*OutTrack{{
			Handler: "vide", Timescale: 1000, Language: "eng", Width: 2 << 16, Height: 1 << 16,
			Edits:   []Edit{{Duration: 60, MediaTime: 20}},
			Entries: []SampleEntry{{Raw: mk("test", []byte{0, 0, 0, 0, 0, 0, 0, 1})}},
			Samples: []OutSample{
				{Src: src, Offset: 0, Size: 3, Duration: 40, CTS: 20, Key: true},
				{Src: src, Offset: 3, Size: 4, Duration: 40, CTS: 20},
			},
		}},
	}
}

// TestWriteIsByteExact pins every byte of a small file; the boxes were checked
// by eye against ISO/IEC 14496-12.
func TestWriteIsByteExact(t *testing.T) {
	want, err := os.ReadFile("testdata/smallest.hex")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if _, err := smallest().WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	if got := hex.Dump(b.Bytes()); got != string(want) {
		t.Errorf("bytes differ:\n%s", cmp.Diff(string(want), got))
	}
}

func TestWriteThenReadIsUnchanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, wantBytes := drawMovie(t)
		var b bytes.Buffer
		n, err := m.WriteTo(&b)
		if err != nil {
			t.Fatal(err)
		}
		if n != int64(b.Len()) {
			t.Fatalf("says %d bytes, wrote %d", n, b.Len())
		}
		f, err := read(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if f.Short != nil || f.Title != m.Title || len(f.Tracks) != len(m.Tracks) {
			t.Fatalf("file: %+v", f)
		}
		for i, tr := range f.Tracks {
			compareTrack(t, m.Tracks[i], tr)
			for j := range tr.Samples.Offset {
				at, size := tr.Samples.Offset[j], int64(tr.Samples.Size[j])
				if got := b.Bytes()[at : at+size]; m.Tracks[i].Unit == 0 && !bytes.Equal(got, wantBytes[i][j]) {
					t.Fatalf("track %d sample %d: bytes differ", i, j)
				}
			}
		}
	})
}

func compareTrack(t *rapid.T, w *OutTrack, got *Track) {
	matrix := w.Matrix
	if matrix == (Matrix{}) {
		matrix = Identity
	}
	if got.Handler != w.Handler || got.Timescale != w.Timescale || got.Matrix != matrix || got.Width != w.Width || got.Language != "deu" {
		t.Fatalf("track: %+v", got)
	}
	if d := cmp.Diff(w.Edits, got.Edits); d != "" {
		t.Fatal(d)
	}
	if w.Unit > 0 {
		var units uint32
		for _, s := range w.Samples {
			units += s.Duration
		}
		if got.Samples.Unit != w.Unit || got.Samples.End != int64(units) {
			t.Fatalf("units: %+v", got.Samples)
		}
		return
	}
	dts := int64(0)
	for j, s := range w.Samples {
		g := &got.Samples
		if g.DTS[j] != dts || g.PTS(j) != dts+int64(s.CTS) || g.IsKey(j) != s.Key || g.EntryOf(j) != s.Entry || g.Duration(j) != int64(s.Duration) {
			t.Fatalf("sample %d: %d %d %v %d, want %+v at %d", j, g.DTS[j], g.PTS(j), g.IsKey(j), g.EntryOf(j), s, dts)
		}
		dts += int64(s.Duration)
	}
}

func drawMovie(t *rapid.T) (*Movie, [][][]byte) {
	m := &Movie{Timescale: 600, Title: rapid.SampledFrom([]string{"", "Jam 7, home – lead"}).Draw(t, "title")}
	var bytesOf [][][]byte
	for i := range rapid.IntRange(1, 3).Draw(t, "tracks") {
		tr := &OutTrack{
			Handler: "vide", Timescale: rapid.Uint32Range(1, 90000).Draw(t, "scale"), Language: "deu",
			Width: 1280 << 16, Height: 720 << 16,
			Matrix: rapid.SampledFrom([]Matrix{{}, {0, 65536, 0, -65536, 0, 0, 0, 0, 1 << 30}}).Draw(t, "matrix"),
		}
		if i > 0 {
			tr.Handler = "soun"
			tr.Unit = rapid.SampledFrom([]uint32{0, 4}).Draw(t, "unit")
		}
		if rapid.Bool().Draw(t, "edit") {
			tr.Edits = []Edit{{7, -1, 0x10000}, {rapid.Uint64Range(1, 1<<40).Draw(t, "long"), 3, 0x10000}}
		}
		for range rapid.IntRange(1, 3).Draw(t, "entries") {
			tr.Entries = append(tr.Entries, SampleEntry{Raw: mk("test", make([]byte, 90))})
		}
		var all []byte
		var each [][]byte
		n := rapid.IntRange(1, 30).Draw(t, "samples")
		for range n {
			s := OutSample{
				Duration: rapid.Uint32Range(1, 4000).Draw(t, "duration"), CTS: rapid.Int32Range(-50, 50).Draw(t, "cts"),
				Key: rapid.Bool().Draw(t, "key"), Entry: rapid.IntRange(0, len(tr.Entries)-1).Draw(t, "entry"),
			}
			if i > 0 && tr.Unit == 0 {
				s.Duration++ // one unit a sample is how uncompressed sound is told
			}
			size := rapid.IntRange(1, 50).Draw(t, "size")
			if tr.Unit > 0 {
				size = int(tr.Unit * s.Duration)
				s.CTS, s.Key = 0, true
			}
			s.Offset, s.Size = int64(len(all)), uint32(size)
			data := bytes.Repeat([]byte{byte(len(each))}, size)
			all = append(all, data...)
			each = append(each, data)
			tr.Samples = append(tr.Samples, s)
		}
		src := Bytes(all)
		for j := range tr.Samples {
			tr.Samples[j].Src = src
		}
		if tr.Unit > 0 { // one entry, or chunk rows would need their own durations
			for j := range tr.Samples {
				tr.Samples[j].Entry = 0
			}
		}
		m.Tracks = append(m.Tracks, tr)
		bytesOf = append(bytesOf, each)
	}
	return m, bytesOf
}

// far is a source whose samples lie beyond four gigabytes.
type far struct{}

func (far) ReadAt(b []byte, _ int64) (int, error) { return len(b), nil }

// discard counts.
type discard struct{ head []byte }

func (d *discard) Write(b []byte) (int, error) {
	if len(d.head) < 1<<16 {
		d.head = append(d.head, b[:min(len(b), 1<<16)]...)
	}
	return len(b), nil
}

func TestWriteBeyondFourGigabytes(t *testing.T) {
	m := smallest()
	m.Tracks[0].Samples = nil
	for i := range 3 {
		m.Tracks[0].Samples = append(m.Tracks[0].Samples, OutSample{Src: far{}, Offset: int64(i) << 31, Size: 1 << 31, Duration: 40, Key: true, Entry: 0})
	}
	d := &discard{}
	n, err := m.WriteTo(d)
	if err != nil {
		t.Fatal(err)
	}
	f, err := Read(bytes.NewReader(d.head), n)
	if err != nil {
		t.Fatal(err)
	}
	s := f.Tracks[0].Samples
	if f.Short != nil || s.Offset[2]-s.Offset[0] != 1<<32 || s.Offset[2]+int64(s.Size[2]) != n {
		t.Errorf("offsets %v, sizes %v, length %d, short %v", s.Offset, s.Size, n, f.Short)
	}
	if !bytes.Contains(d.head, []byte("co64")) {
		t.Error("no 64-bit offsets")
	}
}

func TestInterleaveKeepsTheSourcesOrder(t *testing.T) {
	var log reads
	v := &OutTrack{Handler: "vide", Timescale: 30, Entries: make([]SampleEntry, 1)}
	a := &OutTrack{Handler: "soun", Timescale: 50, Entries: make([]SampleEntry, 1)}
	for at := int64(0); at < 300; at += 30 { // picture, sound, sound, picture...
		v.Samples = append(v.Samples, OutSample{Src: &log, Offset: at, Size: 10, Duration: 1, Key: true})
		a.Samples = append(a.Samples, OutSample{Src: &log, Offset: at + 10, Size: 10, Duration: 1, Key: true}, OutSample{Src: &log, Offset: at + 20, Size: 10, Duration: 1, Key: true})
	}
	v.Entries[0].Raw, a.Entries[0].Raw = mk("test"), mk("test")
	var b bytes.Buffer
	if _, err := (&Movie{Tracks: []*OutTrack{v, a}}).WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	if len(log) != 1 || log[0] != [2]int64{0, 300} {
		t.Errorf("read in %d stretches: %v", len(log), log)
	}
}

type reads [][2]int64

func (r *reads) ReadAt(b []byte, at int64) (int, error) {
	*r = append(*r, [2]int64{at, int64(len(b))})
	return len(b), nil
}

func TestWriteRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		m    *Movie
		says string
	}{
		{"no tracks", &Movie{}, "needs a track"},
		{"no samples", &Movie{Tracks: []*OutTrack{{Handler: "vide", Timescale: 1, Entries: make([]SampleEntry, 1)}}}, "lacks"},
		{"unknown description", &Movie{Tracks: []*OutTrack{{Handler: "vide", Timescale: 1, Entries: make([]SampleEntry, 1), Samples: []OutSample{{Src: far{}, Entry: 1}}}}}, "no sample description"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := c.m.WriteTo(&bytes.Buffer{})
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v", err)
			}
		})
	}
	m := smallest()
	m.Tracks[0].Samples[1].Size = 100
	if _, err := m.WriteTo(&bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "middle of a sample") {
		t.Errorf("a source that ends early: %v", err)
	}
}
