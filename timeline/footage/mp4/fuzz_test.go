package mp4

import (
	"bytes"
	"errors"
	"testing"
)

// FuzzRead feeds broken files: no panic, no memory out of proportion, and what
// is read can be walked through.
func FuzzRead(f *testing.F) {
	f.Add(movie{}.bytes())
	f.Add(movie{
		ctts: mk("ctts", u(0), u(2), u(2), u(100), u(2), u(0xffffff9c)), stss: mk("stss", u(0), u(1), u(1)),
		elst:  mk("elst", u(0x01000000), u(1), uint64(1), uint64(2), u(0x10000)),
		stsz:  mk("stz2", u(0), u(4), u(4), []byte{0x12, 0x34}),
		extra: titleBox("t"),
	}.bytes())
	f.Add(movie{handler: "soun", stsz: mk("stsz", u(0), u(4), u(4)), stts: mk("stts", u(0), u(1), u(4), u(1))}.bytes())
	var b bytes.Buffer
	if _, err := smallest().WriteTo(&b); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := read(data)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.What == "" || e.Do == "" {
				t.Fatalf("not a sentence: %v", err)
			}
			return
		}
		for _, tr := range file.Tracks {
			s := &tr.Samples
			n := s.Len()
			if s.Unit == 0 && uint64(n) > 2*uint64(len(data)) {
				// Zero-sized samples need a row of the size table each.
				t.Fatalf("%d samples from %d bytes", n, len(data))
			}
			for i := range n {
				_ = s.PTS(i) + s.Duration(i)
				if s.IsKey(i) && s.EntryOf(i) >= len(tr.Entries) && len(tr.Entries) > 0 {
					t.Fatalf("sample %d names entry %d of %d", i, s.EntryOf(i), len(tr.Entries))
				}
			}
			for _, e := range tr.Entries {
				e.Config("avcC")
			}
		}
	})
}
