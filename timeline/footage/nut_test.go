package footage

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"whistlecut/timeline/footage/ffmpeg"
)

// nutOf is what ffmpeg writes for raw frames of 4x2 gray pixels at given times,
// in ticks of 1/1000 s; the first pixel of frame i is i+1.
func nutOf(t testing.TB, times []int) []byte {
	t.Helper()
	var raw []byte
	expr := "0"
	for i, at := range times {
		raw = append(raw, byte(i+1), 0, 0, 0, 0, 0, 0, 0)
		expr = fmt.Sprintf("if(eq(N,%d),%d,%s)", i, at, expr)
	}
	out, err := runner.Output(t.Context(), ffmpeg.Job{Stdin: bytes.NewReader(raw), Args: []string{
		"-f", "rawvideo", "-pix_fmt", "gray", "-s", "4x2", "-r", "1000", "-i", "pipe:0",
		"-vf", "settb=1/1000,setpts='" + expr + "'", "-fps_mode", "passthrough", "-enc_time_base", "1/1000",
		"-c:v", "rawvideo", "-f", "nut", "-write_index", "0", "pipe:1",
	}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// readNUT reads times in thousandths of a second, and first pixels.
func readNUT(data []byte) (times, pixels []int, err error) {
	n := newNUT(bytes.NewReader(data))
	for {
		pts, head, size, err := n.next()
		if err != nil {
			return times, pixels, err
		}
		body := append([]byte(nil), head...)
		rest := make([]byte, size-len(head))
		if _, err := io.ReadFull(n.r, rest); err != nil {
			return times, pixels, err
		}
		body = append(body, rest...)
		times = append(times, int(nutRescale(pts, n.base, Rational{1, 1000})))
		if len(body) > 0 {
			pixels = append(pixels, int(body[0]))
		}
	}
}

func TestNUT(t *testing.T) {
	for _, c := range []struct {
		name  string
		times []int
	}{
		{"even", []int{0, 33, 66, 100, 133}},
		{"a start far away", []int{7_200_000, 7_200_033, 7_200_066}},
		{"long gaps", []int{5, 6, 900, 100_000, 100_001, 5_000_000}},
		{"one", []int{12}},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := nutOf(t, c.times)
			times, pixels, err := readNUT(data)
			if !errors.Is(err, io.EOF) || !slices.Equal(times, c.times) {
				t.Errorf("%v, %v", times, err)
			}
			for i, p := range pixels {
				if p != i+1 {
					t.Errorf("packet %d holds frame %d", i, p-1)
				}
			}
			// Cut off anywhere it is an error or a shorter stream, never more.
			for n := range data {
				short, _, err := readNUT(data[:n])
				if err == nil || len(short) > len(times) {
					t.Fatalf("%d bytes give %v", n, short)
				}
			}
		})
	}
	if _, _, err := readNUT([]byte("something else that is long enough")); !errors.Is(err, errNotNUT) {
		t.Errorf("got %v", err)
	}
}

func FuzzNUT(f *testing.F) {
	f.Add(nutOf(f, []int{0, 33, 66}))
	f.Fuzz(func(_ *testing.T, data []byte) {
		n := newNUT(bytes.NewReader(data))
		for range 100 {
			_, head, size, err := n.next()
			if err != nil {
				return
			}
			if _, err := n.r.Discard(size - len(head)); err != nil {
				return
			}
		}
	})
}

func TestShownAt(t *testing.T) {
	base := Rational{1, 90}
	index := func(pts ...int64) *Index {
		var list []frame
		for i, p := range pts {
			list = append(list, frame{p, int32(i), i == 0})
		}
		return newIndex(base, list, 0)
	}
	for _, c := range []struct {
		name    string
		x       *Index
		next    int
		pts     int64
		want    int
		nothing bool
	}{
		{"the next one", index(0, 3, 6, 9), 1, 3, 1, false},
		{"one further on", index(0, 3, 6, 9), 1, 9, 3, false},
		{"between two frames", index(0, 3, 6, 9), 1, 7, 0, true},
		{"one that was before", index(0, 3, 6, 9), 2, 3, 0, true},
		{"after the end", index(0, 3, 6, 9), 2, 12, 0, true},
		{"the second of two at a time", index(0, 3, 3, 9), 2, 4, 2, false},
		{"times before 0 are moved", index(-6, -3, 0, 3), 1, 3, 1, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := shownAt(c.x, c.next, c.pts*2, Rational{1, 180})
			if (err != nil) != c.nothing || err == nil && got != c.want {
				t.Errorf("frame %d, %v", got, err)
			}
		})
	}
}

// spoilt copies a film with its index in front and overwrites a part of the
// picture's stored data, from one share of the file to another.
func spoilt(t *testing.T, name string, from, to float64, with func([]byte)) *File {
	t.Helper()
	path := filepath.Join(t.TempDir(), "spoilt.mp4")
	makeFilm(t, path, append([]string{"-i", film(t, name), "-movflags", "+faststart", "-an"}, copyAll...)...)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	start := bytes.Index(data, []byte("mdat")) + 4
	at := func(share float64) int { return start + int(share*float64(len(data)-start)) }
	with(data[at(from):at(to)])
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := open(t.Context(), runner, path, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TestDamagedFramesNeverComeAsOthers reads damaged films on as far as they go,
// behind the damage as well, and holds each frame against the whole film.
func TestDamagedFramesNeverComeAsOthers(t *testing.T) {
	garbage := func(b []byte) {
		x := uint32(len(b))
		for i := range b {
			x = x*1664525 + 1013904223
			b[i] = byte(x >> 24)
		}
	}
	for _, c := range []struct {
		name, film string
		from, to   float64
		with       func([]byte)
	}{
		{"zeros", "closed", 0.3, 0.5, func(b []byte) { clear(b) }},
		{"garbage", "closed", 0.3, 0.5, garbage},
		{"zeros, frames stored out of order", "opengop", 0.35, 0.45, func(b []byte) { clear(b) }},
		{"zeros in HEVC", "hevc", 0.4, 0.5, func(b []byte) { clear(b) }},
		{"from the start", "closed", 0, 0.1, func(b []byte) { clear(b) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := Picture{Width: 160, Height: 90, Format: Gray}
			whole := plainHashes(t, opened(t, c.film), p)
			f := spoilt(t, c.film, c.from, c.to, c.with)
			if f.Index.Len() != len(whole) {
				t.Fatalf("%d frames, the whole film has %d", f.Index.Len(), len(whole))
			}
			came, gaps := 0, 0
			for from := 0; from < len(whole); {
				list, err := readOn(t, f, from, p)
				if !slices.Equal(list, whole[from:from+len(list)]) {
					t.Errorf("from frame %d on, %d frames come and are not those of the film", from, len(list))
				}
				came += len(list)
				if err == io.EOF {
					break
				}
				var d *DamageError
				if !errors.As(err, &d) || d.To <= from+len(list) || d.From > from+len(list) || !d.Found && d.From != from+len(list) {
					t.Fatalf("after frame %d: %v", from+len(list)-1, err)
				}
				gaps++
				from = d.To
			}
			if gaps == 0 || came == len(whole) || came < len(whole)/5 {
				t.Errorf("%d of %d frames came, %d gaps", came, len(whole), gaps)
			}
		})
	}
}

func readOn(t *testing.T, f *File, from int, p Picture) ([]uint64, error) {
	t.Helper()
	s, err := f.Frames(t.Context(), from, f.Index.Len(), p)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	buf := make([]byte, s.Picture().Bytes())
	var list []uint64
	for {
		if _, err := s.Next(buf); err != nil {
			return list, err
		}
		list = append(list, hashOf(buf))
	}
}

// TestUnitsOfWholeFilmsAreWhole: what is taken for damage must not be found in
// films that have none.
func TestUnitsOfWholeFilmsAreWhole(t *testing.T) {
	looked := 0
	for name := range films {
		f := opened(t, name)
		c := f.coded()
		if c == nil {
			continue
		}
		looked++
		for i := range c.known {
			if !c.intact(i) {
				t.Errorf("%s: packet %d", name, i)
				break
			}
		}
	}
	if looked < 8 {
		t.Errorf("only %d films were looked at", looked)
	}
}

func TestUnitsWhole(t *testing.T) {
	unit := func(body ...byte) []byte { return append([]byte{0, 0, 0, byte(len(body))}, body...) }
	for _, c := range []struct {
		name string
		data []byte
		hevc bool
		want bool
	}{
		{"one unit", unit(0x65, 1, 2, 3), false, true},
		{"two units", slices.Concat(unit(0x67, 9), unit(0x65, 1)), false, true},
		{"zeros guarded", unit(0x65, 0, 0, 3, 1, 0, 0, 3), false, true},
		{"three zeros", unit(0x65, 0, 0, 0, 1), false, false},
		{"a start code", unit(0x41, 0, 0, 1, 9), false, false},
		{"a start code in what is no picture", unit(0x66, 0, 0, 1, 9), false, true},
		{"zeros at the end", unit(0x65, 1, 0, 0, 0, 0), false, true},
		{"longer than there is", unit(0x65, 1)[:5], false, false},
		{"all zeros", make([]byte, 100), false, false},
		{"padded", append(unit(0x65, 1), make([]byte, 12)...), false, true},
		{"a forbidden bit", unit(0xe5, 1), false, false},
		{"HEVC, three zeros", unit(0x26, 1, 0, 0, 0, 1), true, false},
		{"HEVC, three zeros in parameters", unit(0x42, 1, 0, 0, 0, 1), true, true},
		{"nothing", nil, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := unitsWhole(c.data, 4, c.hevc); got != c.want {
				t.Errorf("%v", got)
			}
		})
	}
}
