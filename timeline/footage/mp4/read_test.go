package mp4

import (
	"bytes"
	"encoding/binary"
	"errors"
	"strings"
	"testing"
)

// mk builds a box.
func mk(kind string, parts ...any) []byte {
	var b bytes.Buffer
	b.Write([]byte{0, 0, 0, 0})
	b.WriteString(kind)
	for _, p := range parts {
		switch p := p.(type) {
		case []byte:
			b.Write(p)
		case string:
			b.WriteString(p)
		default:
			if err := binary.Write(&b, binary.BigEndian, p); err != nil {
				panic(err)
			}
		}
	}
	out := b.Bytes()
	binary.BigEndian.PutUint32(out, uint32(len(out)))
	return out
}

type u = uint32

// movie is a small hand-made file: four samples of picture in two chunks.
type movie struct {
	stsz, stts, ctts, stss, stsc, stco, elst, extra []byte
	handler                                         string
}

func (m movie) bytes() []byte {
	def := func(b *[]byte, v []byte) {
		if *b == nil {
			*b = v
		}
	}
	def(&m.stsz, mk("stsz", u(0), u(0), u(4), u(10), u(20), u(30), u(40)))
	def(&m.stts, mk("stts", u(0), u(2), u(3), u(100), u(1), u(50)))
	def(&m.stsc, mk("stsc", u(0), u(1), u(1), u(2), u(1)))
	def(&m.stco, mk("stco", u(0), u(2), u(40), u(500)))
	if m.handler == "" {
		m.handler = "vide"
	}
	head := [84 - 4]byte{}
	binary.BigEndian.PutUint32(head[8:], 7) // track ID
	for i, v := range Identity {
		binary.BigEndian.PutUint32(head[36+4*i:], u(v))
	}
	binary.BigEndian.PutUint32(head[72:], 640<<16)
	binary.BigEndian.PutUint32(head[76:], 360<<16)
	entry := mk("avc1", make([]byte, 24), uint16(640), uint16(360), make([]byte, 50), mk("avcC", "abc"))
	var edits []byte
	if m.elst != nil {
		edits = mk("edts", m.elst)
	}
	ftyp := mk("ftyp", "isom", u(512), "isom", "avc1")
	moov := mk(
		"moov",
		mk("mvhd", u(0), u(0), u(0), u(1000), u(350), make([]byte, 80)),
		m.extra,
		mk(
			"trak", mk("tkhd", u(1), head[:]), edits,
			mk(
				"mdia", mk("mdhd", u(0), u(0), u(0), u(1000), u(350), uint16(0x15c7), uint16(0)),
				mk("hdlr", u(0), u(0), m.handler, make([]byte, 12), "picture\x00"),
				mk("minf", mk("stbl", mk("stsd", u(0), u(1), entry), m.stsz, m.stts, m.ctts, m.stss, m.stsc, m.stco)),
			),
		),
	)
	return append(append(ftyp, moov...), mk("mdat", make([]byte, 1000))...)
}

func read(b []byte) (*File, error) { return Read(bytes.NewReader(b), int64(len(b))) }

func TestReadSmallFile(t *testing.T) {
	m := movie{
		ctts: mk("ctts", u(0), u(2), u(2), u(100), u(2), u(0xffffff9c)),
		stss: mk("stss", u(0), u(1), u(1)),
		elst: mk("elst", u(0), u(2), u(50), u(0xffffffff), u(0x10000), u(300), u(100), u(0x10000)),
	}
	f, err := read(m.bytes())
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(f.Brands, " "); got != "isom isom avc1" {
		t.Errorf("brands %q", got)
	}
	tr := f.Video()
	if tr == nil || tr.ID != 7 || tr.Language != "eng" || tr.Name != "picture" || tr.Matrix != Identity || tr.Width != 640<<16 {
		t.Fatalf("track %+v", tr)
	}
	if e := tr.Entries[0]; e.Type != "avc1" || e.Width != 640 || e.Height != 360 || string(e.Config("avcC")) != "abc" {
		t.Errorf("entry %+v", e)
	}
	if want := []Edit{{50, -1, 0x10000}, {300, 100, 0x10000}}; len(tr.Edits) != 2 || tr.Edits[0] != want[0] || tr.Edits[1] != want[1] {
		t.Errorf("edits %+v", tr.Edits)
	}
	s := &tr.Samples
	type row struct {
		at   int64
		size uint32
		dts  int64
		pts  int64
		dur  int64
		key  bool
	}
	want := []row{{40, 10, 0, 100, 100, true}, {50, 20, 100, 200, 100, false}, {500, 30, 200, 100, 100, false}, {530, 40, 300, 200, 50, false}}
	for i, w := range want {
		got := row{s.Offset[i], s.Size[i], s.DTS[i], s.PTS(i), s.Duration(i), s.IsKey(i)}
		if got != w {
			t.Errorf("sample %d: %+v, want %+v", i, got, w)
		}
	}
	if f.Short != nil {
		t.Errorf("short: %v", f.Short)
	}
}

func TestReadTables(t *testing.T) {
	for _, c := range []struct {
		name string
		m    movie
		size []uint32
		at   []int64
	}{
		{"uniform", movie{stsz: mk("stsz", u(0), u(8), u(4))}, []uint32{8, 8, 8, 8}, []int64{40, 48, 500, 508}},
		{"compact 4 bits", movie{stsz: mk("stz2", u(0), u(4), u(4), []byte{0x12, 0x34})}, []uint32{1, 2, 3, 4}, []int64{40, 41, 500, 503}},
		{"compact 16 bits", movie{stsz: mk("stz2", u(0), u(16), u(4), []byte{1, 0, 0, 1, 0, 2, 0, 3})}, []uint32{256, 1, 2, 3}, []int64{40, 296, 500, 502}},
		{"64-bit chunks", movie{stco: mk("co64", u(0), u(2), uint64(40), uint64(5_000_000_000))}, []uint32{10, 20, 30, 40}, []int64{40, 50, 5_000_000_000, 5_000_000_030}},
		{"uncompressed sound", movie{handler: "soun", stsz: mk("stsz", u(0), u(4), u(4)), stts: mk("stts", u(0), u(1), u(4), u(1))}, []uint32{8, 8}, []int64{40, 500}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := read(c.m.bytes())
			if err != nil {
				t.Fatal(err)
			}
			s := f.Tracks[0].Samples
			if len(s.Offset) != len(c.at) {
				t.Fatalf("%d rows, want %d", len(s.Offset), len(c.at))
			}
			for i := range c.at {
				if s.Size[i] != c.size[i] || s.Offset[i] != c.at[i] {
					t.Errorf("row %d: %d bytes at %d, want %d at %d", i, s.Size[i], s.Offset[i], c.size[i], c.at[i])
				}
			}
			if (f.Short != nil) != (c.at[len(c.at)-1] > 5000) {
				t.Errorf("short: %v", f.Short)
			}
		})
	}
}

func TestReadErrors(t *testing.T) {
	whole := movie{}.bytes()
	moovLast := append(append(append([]byte{}, mk("ftyp", "isom", u(0))...), mk("mdat", make([]byte, 500))...), movie{}.bytes()...)
	for _, c := range []struct {
		name string
		data []byte
		kind Kind
		says string
	}{
		{"empty", nil, NotMP4, "not an MP4"},
		{"text", []byte("Period 1, Jam 1: lead by number 12"), NotMP4, "not an MP4"},
		{"movie box cut off", whole[:200], Truncated, "cut off"},
		{"no movie box", mk("ftyp", "isom", u(0)), Truncated, "never finished"},
		{"media data cut off before the movie box", moovLast[:200], Truncated, "no movie box"},
		{"size table claims too much", movie{stsz: mk("stsz", u(0), u(0), u(0x7fffffff))}.bytes(), Malformed, "claims 2147483647 rows"},
		{"uniform size claims too much", movie{stsz: mk("stsz", u(0), u(9), u(1<<20))}.bytes(), Malformed, "samples of 9 bytes"},
		{"times run out", movie{stts: mk("stts", u(0), u(1), u(2), u(1))}.bytes(), Malformed, "times for 2"},
		{"chunks run out", movie{stco: mk("stco", u(0), u(1), u(40))}.bytes(), Malformed, "chunks for 2"},
		{"sample description missing", movie{stsc: mk("stsc", u(0), u(1), u(1), u(2), u(9))}.bytes(), Malformed, "sample description 9 of 1"},
		{"key frame outside", movie{stss: mk("stss", u(0), u(1), u(5))}.bytes(), Malformed, "key frame 5 of 4"},
		{"edit list claims too much", movie{elst: mk("elst", u(0), u(1<<30))}.bytes(), Malformed, "edit list"},
		{"compressed movie box", movie{extra: mk("cmov")}.bytes(), Unsupported, "compressed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := read(c.data)
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v", err)
			}
			if e.Kind != c.kind || !strings.Contains(e.Error(), c.says) || e.Do == "" {
				t.Errorf("kind %d, %q", e.Kind, e)
			}
		})
	}
}

func TestMediaDataCutOffAfterTheMovieBoxIsSaid(t *testing.T) {
	whole := movie{}.bytes()
	last := u(len(whole) - 600) // where the second chunk lies
	whole = movie{stco: mk("stco", u(0), u(2), u(40), last)}.bytes()
	f, err := read(whole[:len(whole)-500])
	if err != nil {
		t.Fatal(err)
	}
	if f.Short != nil {
		t.Errorf("all samples are inside, yet: %v", f.Short)
	}
	cut := whole[:len(whole)-540]
	if f, err = read(cut); err != nil {
		t.Fatal(err)
	}
	if f.Short == nil || f.Short.Kind != Truncated || f.Short.Offset != int64(len(cut)) {
		t.Errorf("short: %v", f.Short)
	}
}

func TestRotation(t *testing.T) {
	const o = 0x10000
	for _, c := range []struct {
		name string
		m    Matrix
		deg  int
		ok   bool
	}{
		{"as it is", Identity, 0, true},
		{"quarter turn", Matrix{0, o, 0, -o, 0, 0, 0, 0, 1 << 30}, 90, true},
		{"half turn", Matrix{-o, 0, 0, 0, -o, 0, 0, 0, 1 << 30}, 180, true},
		{"three quarters", Matrix{0, -o, 0, o, 0, 0, 0, 0, 1 << 30}, 270, true},
		{"mirrored", Matrix{-o, 0, 0, 0, o, 0, 0, 0, 1 << 30}, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if deg, ok := c.m.Rotation(); deg != c.deg || ok != c.ok {
				t.Errorf("%d %v, want %d %v", deg, ok, c.deg, c.ok)
			}
		})
	}
}

// BenchmarkRead reads the tables of an hour at 30 frames a second with 169,000
// sound packets.
func BenchmarkRead(b *testing.B) {
	const n = 108_000
	rows := make([]u, n)
	offs := make([]u, n)
	ctts := make([]u, 2*n)
	for i := range n {
		rows[i], offs[i] = 9, u(40+9*i)
		ctts[2*i], ctts[2*i+1] = 1, u(i%3)
	}
	data := movie{
		stsz: mk("stsz", u(0), u(0), u(n), rows),
		stts: mk("stts", u(0), u(1), u(n), u(512)),
		ctts: mk("ctts", u(0), u(n), ctts),
		stsc: mk("stsc", u(0), u(1), u(1), u(1), u(1)),
		stco: mk("stco", u(0), u(n), offs),
		stss: mk("stss", u(0), u(1), u(1)),
	}.bytes()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := read(data); err != nil {
			b.Fatal(err)
		}
	}
}
