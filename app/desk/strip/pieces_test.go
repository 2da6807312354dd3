package strip

import (
	"testing"
	"time"

	"whistlecut/timeline"
)

func TestPieces(t *testing.T) {
	f := timeline.Facts{
		Footage: map[timeline.ID]timeline.Footage{
			"late":  {Camera: "stand", Order: 2, Duration: time.Minute, Joined: true},
			"early": {Camera: "stand", Order: 1, Duration: time.Hour, Range: timeline.TimeRange{Start: time.Minute, End: 2 * time.Hour}},
			"open":  {Camera: "stand", Order: 3},
			"other": {Camera: "turn", Duration: time.Hour},
		},
		Tags: map[timeline.ID]timeline.Tag{
			"t": {Kind: timeline.KindMark, Place: timeline.OnFilm("open", 5*time.Minute)},
			"b": {Kind: timeline.KindBox, Place: timeline.OnFilm("open", time.Minute), Box: &timeline.BoxInfo{Out: timeline.OnFilm("open", 7*time.Minute)}},
		},
	}
	got := Pieces(f, "stand", map[timeline.ID]Frames{"late": steady(time.Second / 60)})
	want := []Piece{
		{Footage: "early", Film: timeline.TimeRange{Start: time.Minute, End: time.Hour}},
		{Footage: "late", Film: timeline.TimeRange{End: time.Minute}, Joined: true, Frames: steady(time.Second / 60)},
		{Footage: "open", Film: timeline.TimeRange{End: 8 * time.Minute}},
	}
	if len(got) != len(want) {
		t.Fatalf("%+v, want %+v", got, want)
	}
	for n := range want {
		if got[n] != want[n] {
			t.Errorf("piece %d: %+v, want %+v", n, got[n], want[n])
		}
	}
}
