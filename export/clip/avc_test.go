package clip

import (
	"bytes"
	"testing"

	"pgregory.net/rapid"
)

func TestExpGolombWrittenIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.Uint32Range(0, 1<<30), 1, 20).Draw(t, "numbers")
		var w bitWriter
		for _, v := range list {
			w.ue(v)
		}
		end := w.n
		w.stop()
		r := bitReader{data: payload(escape(w.data))}
		if got := endOfPayload(r.data); got != end {
			t.Fatalf("the payload ends at bit %d, want %d", got, end)
		}
		for i, want := range list {
			if got := r.ue(); got != want || r.bad {
				t.Fatalf("number %d: %d, want %d", i, got, want)
			}
		}
	})
}

func TestEscapingHidesStartCodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := rapid.SliceOf(rapid.SampledFrom([]byte{0, 0, 0, 1, 2, 3, 4, 255})).Draw(t, "bytes")
		out := escape(data)
		for _, code := range [][]byte{{0, 0, 0}, {0, 0, 1}, {0, 0, 2}} {
			if bytes.Contains(out, code) {
				t.Fatalf("%x contains %x", out, code)
			}
		}
		if got := payload(out); !bytes.Equal(got, data) {
			t.Fatalf("%x came back as %x", data, got)
		}
	})
}

// TestSpoolSplitsAtDelimiters feeds a stream in pieces of every size.
func TestSpoolSplitsAtDelimiters(t *testing.T) {
	aud := []byte{0, 0, 0, 1, avcAUD, 0xf0}
	sps := []byte{0, 0, 0, 1, 0x67, 100, 0, 31}
	pps := []byte{0, 0, 1, 0x68, 0xee}
	var stream []byte
	for _, part := range [][]byte{aud, sps, pps, {0, 0, 1, 0x65, 9, 8, 7}, aud, {0, 0, 1, 0x41, 1}, {0, 0, 1, 0x41, 2, 0, 0}, aud, {0, 0, 0, 1, 0x41, 3}} {
		stream = append(stream, part...)
	}
	want := []byte{0, 0, 0, 4, 0x65, 9, 8, 7, 0, 0, 0, 2, 0x41, 1, 0, 0, 0, 2, 0x41, 2, 0, 0, 0, 2, 0x41, 3}
	for size := 1; size <= len(stream); size++ {
		var out bytes.Buffer
		s := &spool{out: &out, lengthSize: 4}
		for i := 0; i < len(stream); i += size {
			if _, err := s.Write(stream[i:min(i+size, len(stream))]); err != nil {
				t.Fatal(err)
			}
		}
		if err := s.finish(); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(out.Bytes(), want) {
			t.Fatalf("pieces of %d: %x", size, out.Bytes())
		}
		if len(s.units) != 3 || !s.units[0].key || s.units[1].key || s.units[1].size != 12 || len(s.sets.sps) != 1 || len(s.sets.pps) != 1 {
			t.Fatalf("pieces of %d: %+v", size, s)
		}
	}
}

// TestFollow finds the place behind the last copied pictures.
func TestFollow(t *testing.T) {
	c := &avc{seq: avcSeq{frameNumBits: 4, pocType: 0, pocBits: 6}}
	pic := func(nal byte, frameNum, poc uint32) [][]byte {
		var w bitWriter
		w.u(uint32(nal), 8)
		w.ue(0)
		w.ue(5)
		w.ue(0)
		w.u(frameNum, 4)
		if nal&31 == avcIDR {
			w.ue(3)
		}
		w.u(poc, 6)
		w.u(0x5555, 16)
		return [][]byte{escape(w.data)}
	}
	const p, b, idr = 0x41, 0x01, 0x65
	for _, x := range []struct {
		name     string
		pictures [][][]byte
		want     follow
	}{
		{"P and two B", [][][]byte{pic(p, 4, 20), pic(b, 5, 16), pic(b, 5, 18)}, follow{true, 5, 22}},
		{"numbers wrap", [][][]byte{pic(p, 15, 62), pic(p, 0, 4), pic(b, 1, 0), pic(b, 1, 2)}, follow{true, 1, 6}},
		{"lower number in the last reference", [][][]byte{pic(p, 4, 40), pic(p, 5, 36), pic(b, 6, 38)}, follow{true, 6, 42}},
		{"behind a refresh", [][][]byte{pic(p, 9, 60), pic(idr, 0, 0), pic(p, 1, 4), pic(b, 2, 2)}, follow{true, 2, 6}},
		{"no reference", [][][]byte{pic(b, 1, 2)}, follow{}},
	} {
		t.Run(x.name, func(t *testing.T) {
			got := c.follow(x.pictures)
			got.poc &= 63
			if got.ok != x.want.ok || got.ok && got != x.want {
				t.Errorf("%+v, want %+v", got, x.want)
			}
		})
	}
}
