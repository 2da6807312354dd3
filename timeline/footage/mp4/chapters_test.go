package mp4

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// TestChapters reads the track of titles back and looks at the list.
func TestChapters(t *testing.T) {
	long := strings.Repeat("ü", 200) // 400 bytes
	m := &Movie{
		Timescale: 1000,
		Tracks: []*OutTrack{{
			Handler: "vide", Timescale: 1000, Entries: []SampleEntry{{Raw: mk("test", make([]byte, 90))}},
			Samples: []OutSample{{Src: Bytes([]byte("abcd")), Size: 4, Duration: 9000, Key: true}},
		}},
		Title:    "Reel",
		Chapters: []Chapter{{0, "one"}, {2500 * time.Millisecond, "עברית 🛼"}, {4 * time.Second, long}},
	}
	var b bytes.Buffer
	if _, err := m.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	if len(m.Tracks) != 1 || len(m.Tracks[0].Refs) != 0 {
		t.Error("writing changed the movie")
	}
	f, err := read(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Tracks) != 2 || f.Title != "Reel" || !f.Tracks[0].Enabled || f.Tracks[1].Enabled || f.Tracks[1].Handler != "text" {
		t.Fatalf("%+v", f)
	}
	if r := f.Tracks[0].Refs; len(r) != 1 || r[0].Kind != "chap" || r[0].Tracks[0] != f.Tracks[1].ID {
		t.Errorf("the picture points to %+v", r)
	}
	s := &f.Tracks[1].Samples
	if s.Len() != 3 || s.DTS[1] != 225000 || s.DTS[2] != 360000 || s.End != 810000 {
		t.Errorf("%+v", s)
	}
	for i, want := range []string{"one", "עברית 🛼", long} {
		got := b.Bytes()[s.Offset[i] : s.Offset[i]+int64(s.Size[i])]
		if n := int(got[0])<<8 | int(got[1]); n != len(want) || string(got[2:2+n]) != want {
			t.Errorf("title %d: %q", i, got)
		}
	}
	list := chapterList(m.Chapters)
	if !bytes.Contains(b.Bytes(), list) || !bytes.HasSuffix(list, []byte("ü")) || bytes.Count(list, []byte("ü")) != 127 {
		t.Errorf("the list ends with %q", list[len(list)-20:])
	}
}
