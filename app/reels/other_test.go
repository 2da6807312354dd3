package reels

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// hidden hides the upper left quarter of a bout's film from a time on.
func hidden(from time.Duration) timeline.Tag {
	return timeline.Tag{ID: "d", Kind: timeline.KindDrawing, Place: timeline.OnFilm("f", from), Drawing: &timeline.Drawing{
		Shape: timeline.ShapeHide, Points: []timeline.Point{{X: 0, Y: 0}, {X: 0.5, Y: 0.5}}, End: timeline.OnFilm("f", 8*sec),
	}}
}

// TestOtherBout: clips of another bout bring their words, their film and what was
// drawn on it; drawings of this bout's film of the same ID are not theirs.
func TestOtherBout(t *testing.T) {
	a, s := bout(t)
	_, of := bout(t)
	film := filepath.Join(filepath.Dir(of.Path), "last week.mp4")
	if err := os.Rename(of.Facts.Footage["f"].Path, film); err != nil {
		t.Fatal(err)
	}
	ring := hidden(0)
	ring.ID, ring.Drawing = "ring", &timeline.Drawing{Shape: timeline.ShapeRing, Points: []timeline.Point{{X: 0.6, Y: 0.6}, {X: 0.9, Y: 0.9}}, End: timeline.OnFilm("f", 8*sec)}
	if err := s.Apply("a drawing of its own", timeline.SetTag(ring)); err != nil {
		t.Fatal(err)
	}
	if err := of.Apply("hidden", timeline.SetTag(hidden(4*sec)), timeline.SetInfo(timeline.Info{Title: "Last week", Date: "2026-05-01"}),
		timeline.SetFootage(timeline.Footage{ID: "f", Path: film, Camera: "phone", Duration: 8 * sec})); err != nil {
		t.Fatal(err)
	}
	r, _ := New(s, "Both", "en")
	r.Burned = true
	change := timeline.SetReel(r)
	mine := Collect(s, r, FromMarks(s)[:1], CollectOptions{Margins: margins(sec, sec), Captions: true})
	if err := s.Apply("reel", append(mine.Changes, change)...); err != nil {
		t.Fatal(err)
	}
	got := CollectFrom(s, of, r, FromMarks(of)[2:], CollectOptions{Margins: margins(sec, sec), Captions: true})
	if len(got.Parts) != 1 || got.Parts[0].Order <= mine.Parts[0].Order {
		t.Fatalf("collected %+v", got.Parts)
	}
	o := got.Parts[0].Clip.Other
	if o == nil || o.Title != "Last week, 2026-05-01" || !filepath.IsAbs(o.Film) || !filepath.IsAbs(o.Bout) || o.Shown["kind"] != "mark" || o.Length != 8*sec {
		t.Fatalf("the clip comes from %+v", o)
	}
	if len(o.Drawings) != 1 || o.Drawings[0].ID != "d" {
		t.Errorf("it brings the drawings %v", o.Drawings)
	}
	if err := s.Apply("of another", got.Changes...); err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Facts.ReelParts(r.ID) {
		if err := timeline.CheckPart(p); err != nil {
			t.Error(err)
		}
	}
	dir := t.TempDir()
	made, err := Make(context.Background(), a, s, r.ID, MakeOptions{Dir: dir, Sheet: true, Subtitles: true})
	if err != nil {
		t.Fatal(err)
	}
	if made.Length != 4*sec {
		t.Errorf("%s long, want 4 s", made.Length)
	}
	text, err := os.ReadFile(filepath.Join(dir, "Both.en.srt"))
	if err != nil || !strings.Contains(string(text), "M1") && !strings.Contains(string(text), "m1") || !strings.Contains(strings.ToLower(string(text)), "m3") {
		t.Errorf("captions %v:\n%s", err, text)
	}
	f, err := footage.Open(context.Background(), a.Runner, made.Out)
	if err != nil {
		t.Fatal(err)
	}
	// Of the other bout's clip (from 2 s on) the hidden quarter stands still.
	one, two := picture(t, f, 2*25+5), picture(t, f, 4*25-5)
	if d := difference(one, two, 64, 32, 256, 128); d > 2 {
		t.Errorf("under what the other bout hid pictures differ by %.1f", d)
	}
	// Of its own clip the same quarter is to be seen.
	own, later := picture(t, f, 5), picture(t, f, 2*25-5)
	if d := difference(own, later, 64, 32, 256, 128); d < 2 {
		t.Errorf("the own clip is hidden, too: %.1f", d)
	}
	if err := os.Rename(o.Film, o.Film+".gone"); err != nil {
		t.Fatal(err)
	}
	_, err = Make(context.Background(), a, s, r.ID, MakeOptions{Out: filepath.Join(dir, "again.mp4")})
	if err == nil || !strings.Contains(err.Error(), "of Last week, 2026-05-01 is missing; put it back, or beside tonight.bout") || !strings.Contains(err.Error(), "part 2") {
		t.Errorf("a missing film: %v", err)
	}
}

func TestTakeParts(t *testing.T) {
	_, s := bout(t)
	_, of := bout(t)
	theirs := begin(t, of, "en", "es")
	parts := of.Facts.ReelParts(theirs.ID)
	c := *parts[1].Clip
	c.Beside, c.Speeds = "f", []timeline.Speed{{Range: timeline.TimeRange{Start: 0, End: sec}, Rate: 0.5}}
	parts[1].Clip = &c
	r, change := New(s, "Both", "en")
	got, err := TakeParts(s, of, r, parts)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Apply("taken", append(got.Changes, change)...); err != nil {
		t.Fatal(err)
	}
	list := s.Facts.ReelParts(r.ID)
	if len(list) != len(parts) || list[0].Card == nil || list[1].Clip.Other == nil || len(list[1].Clip.Speeds) != 1 || list[1].Caption.In("es") != parts[1].Caption.In("es") {
		t.Errorf("taken over: %+v", list)
	}
	if list[1].Clip.Beside != "" || len(got.Notes) != 1 {
		t.Errorf("the second camera stays: %q, %v", list[1].Clip.Beside, got.Notes)
	}
	for i := range list {
		if list[i].ID == parts[i].ID {
			t.Error("a part has the ID that it has in the other bout")
		}
	}
	if _, err := TakeParts(s, s, r, list); err == nil {
		t.Error("parts of this bout were taken from this bout")
	}
	// A drawing of this bout is not given away with a clip of another.
	d := hidden(0)
	if err := s.Apply("drawn", timeline.SetTag(d)); err != nil {
		t.Fatal(err)
	}
	if n := len(Export(s.Facts, r.ID).Drawings); n != 0 {
		t.Errorf("%d drawings come with clips of another bout", n)
	}
}
