package reel

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
)

// TestBeatsAreThePart: whatever speeds and held pictures a clip has, its beats
// together are as long as the part says it is, and its film is all of it, once,
// in order.
func TestBeatsAreThePart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenth := func(name string, most int) time.Duration {
			return time.Duration(rapid.IntRange(0, most).Draw(t, name)) * 100 * time.Millisecond
		}
		c := timeline.Clip{Footage: "film", Before: tenth("before", 50), After: tenth("after", 50)}
		c.Range.Start = tenth("start", 100)
		c.Range.End = c.Range.Start + tenth("long", 50)
		at := tenth("first", 60)
		for range rapid.IntRange(0, 3).Draw(t, "speeds") {
			to := at + 100*time.Millisecond + tenth("slow", 20)
			c.Speeds = append(c.Speeds, timeline.Speed{Range: timeline.TimeRange{Start: at, End: to}, Rate: rapid.SampledFrom(rates).Draw(t, "rate")})
			at = to + tenth("gap", 20)
		}
		at = tenth("held", 60)
		for range rapid.IntRange(0, 3).Draw(t, "freezes") {
			c.Freezes = append(c.Freezes, timeline.Freeze{At: at, Length: tenth("hold", 30)})
			at += tenth("next", 30)
		}
		p := timeline.Part{Clip: &c}
		shown := c.Shown()
		var sum time.Duration
		film := shown.Start
		for _, b := range beats(p, 0) {
			sum += b.seconds()
			if b.to > b.from {
				if b.from != film {
					t.Fatalf("the film jumps from %v to %v", film, b.from)
				}
				film = b.to
			} else if b.from != film {
				t.Fatalf("a picture of %v is held at %v", b.from, film)
			}
		}
		if shown.Duration() > 0 && film != shown.End {
			t.Fatalf("the film ends at %v, not at %v", film, shown.End)
		}
		if d := sum - p.Length(); shown.Duration() > 0 && d.Abs() > time.Microsecond {
			t.Fatalf("beats of %v, part of %v", sum, p.Length())
		}
	})
}

func TestBeats(t *testing.T) {
	card := timeline.Part{Card: &timeline.Card{Length: 3 * time.Second}}
	if b := beats(card, 0); len(b) != 1 || b[0].length != 3*time.Second || b[0].footage != "" {
		t.Errorf("card: %+v", b)
	}
	clip := timeline.Part{Clip: &timeline.Clip{Footage: "film", Range: timeline.TimeRange{Start: 5 * time.Second, End: 5 * time.Second}, Before: time.Second, After: 4 * time.Second}}
	if b := beats(clip, 8*time.Second); len(b) != 1 || b[0].to != 8*time.Second-fileEnd {
		t.Errorf("at the film's end: %+v", b)
	}
	clip.Clip.Other = &timeline.OtherBout{}
	if b := beats(clip, 0); b != nil {
		t.Errorf("of another bout: %+v", b)
	}
}
