package timeline

import (
	"strings"
	"testing"
	"time"
)

func TestPartLength(t *testing.T) {
	clip := func(c Clip) Part { return Part{Clip: &c} }
	span := TimeRange{10 * time.Second, 20 * time.Second}
	for _, c := range []struct {
		name string
		part Part
		want time.Duration
	}{
		{"a card", Part{Card: &Card{Length: 3 * time.Second}}, 3 * time.Second},
		{"the moment alone", clip(Clip{Range: span}), 10 * time.Second},
		{"with margins", clip(Clip{Range: span, Before: 4 * time.Second, After: time.Second}), 15 * time.Second},
		{"margins beyond the film's start", clip(Clip{Range: span, Before: 30 * time.Second}), 20 * time.Second},
		{"cut tighter than the moment", clip(Clip{Range: span, Before: -2 * time.Second, After: -3 * time.Second}), 5 * time.Second},
		// 2 s at half speed take 4 s: 10 + 2.
		{"slow motion", clip(Clip{Range: span, Speeds: []Speed{{TimeRange{12 * time.Second, 14 * time.Second}, 0.5}}}), 12 * time.Second},
		// Only the second that is shown counts: 10 + 1.
		{"slow motion over the edge", clip(Clip{Range: span, Speeds: []Speed{{TimeRange{9 * time.Second, 11 * time.Second}, 0.5}}}), 11 * time.Second},
		{"freeze", clip(Clip{Range: span, Freezes: []Freeze{{15 * time.Second, 2 * time.Second}}}), 12 * time.Second},
		{"a freeze that is not shown", clip(Clip{Range: span, Freezes: []Freeze{{20 * time.Second, 2 * time.Second}}}), 10 * time.Second},
		{"nothing", Part{}, 0},
	} {
		if got := c.part.Length(); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

func TestWordsIn(t *testing.T) {
	for _, c := range []struct {
		name, language, want string
		words                Words
	}{
		{"its own", "es", "cinco", Words{"en": "five", "es": "cinco"}},
		{"any language", "fr", "5", Words{"en": "five", "": "5"}},
		{"the first there is", "fr", "five", Words{"en": "five", "es": "cinco"}},
		{"meant empty", "es", "", Words{"en": "five", "es": ""}},
		{"none", "en", "", nil},
	} {
		if got := c.words.In(c.language); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestCheckPart(t *testing.T) {
	film := func(change func(*Clip)) Part {
		c := Clip{Footage: "f", Range: TimeRange{time.Second, 2 * time.Second}}
		change(&c)
		return Part{ID: "p", Reel: "r", Clip: &c}
	}
	sec := time.Second
	for _, c := range []struct {
		name string
		part Part
		want string
	}{
		{"good", film(func(*Clip) {}), ""},
		{"neither", Part{ID: "p", Reel: "r"}, "either a card or a clip"},
		{"both", Part{ID: "p", Reel: "r", Card: &Card{}, Clip: &Clip{Footage: "f"}}, "either a card or a clip"},
		{"no reel", Part{ID: "p", Card: &Card{}}, "reel: it is missing"},
		{"no film", film(func(c *Clip) { c.Footage = "" }), "clip.footage: it is missing"},
		{"backwards", film(func(c *Clip) { c.Range.End = 0 }), "clip.range.end"},
		{"too slow", film(func(c *Clip) { c.Speeds = []Speed{{TimeRange{0, sec}, 0.01}} }), "clip.speeds[0].rate: 0.01 is outside 0.1..4"},
		{"no speed", film(func(c *Clip) { c.Speeds = []Speed{{TimeRange{0, sec}, 0}} }), "clip.speeds[0].rate"},
		{"speeds overlap", film(func(c *Clip) { c.Speeds = []Speed{{TimeRange{0, 2 * sec}, 0.5}, {TimeRange{sec, 3 * sec}, 0.5}} }), "clip.speeds[1].range"},
		{"freezes out of order", film(func(c *Clip) { c.Freezes = []Freeze{{2 * sec, sec}, {sec, sec}} }), "clip.freezes[1].at"},
		{"freeze of no sense", film(func(c *Clip) { c.Freezes = []Freeze{{sec, -sec}} }), "clip.freezes[0].length"},
	} {
		err := CheckPart(c.part)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

func TestCheckDrawing(t *testing.T) {
	good := func(change func(*Tag)) Tag {
		tag := Tag{
			ID: "d", Kind: KindDrawing, Place: OnFilm("f", time.Second),
			Drawing: &Drawing{Shape: ShapeArrow, Points: []Point{{0, 0}, {1, 1}}, End: OnFilm("f", 2*time.Second)},
		}
		change(&tag)
		return tag
	}
	for _, c := range []struct {
		name string
		tag  Tag
		want string
	}{
		{"good", good(func(*Tag) {}), ""},
		{"no length", good(func(t *Tag) { t.Drawing.End = t.Place }), ""},
		{"unknown shape", good(func(t *Tag) { t.Drawing.Shape = "star" }), "drawing.shape"},
		{"one point of an arrow", good(func(t *Tag) { t.Drawing.Points = t.Drawing.Points[:1] }), "drawing.points: 1 points"},
		{"far away", good(func(t *Tag) { t.Drawing.Points[1].X = 700 }), "drawing.points[1]"},
		{"other film", good(func(t *Tag) { t.Drawing.End.Footage = "g" }), "drawing.end"},
		{"backwards", good(func(t *Tag) { t.Drawing.End.Film = 0 }), "drawing.end"},
		{"in a jam", good(func(t *Tag) { t.Place = InJam("j", 0) }), "place: a drawing is on film"},
		{"no colour", good(func(t *Tag) { t.Drawing.Colour = "#12345g" }), "drawing.colour"},
		{"no payload", good(func(t *Tag) { t.Drawing = nil }), "drawing: it is missing"},
	} {
		err := CheckTag(c.tag)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

func TestReelsAreRecords(t *testing.T) {
	l := newTestLog("Ada")
	part := func(id ID, order float64) Part {
		return Part{ID: id, Reel: "r", Order: order, Card: &Card{Title: Words{"en": string(id)}, Length: time.Second}}
	}
	mustApply(t, l, "", SetReel(Reel{ID: "r", Name: "Tuesday"}), SetPart(part("b", 2)), SetPart(part("a", 1)), SetPart(part("c", 1.5)))
	var got []ID
	for _, p := range l.Facts().ReelParts("r") {
		got = append(got, p.ID)
	}
	if len(got) != 3 || got[0] != "a" || got[1] != "c" || got[2] != "b" {
		t.Errorf("parts stand as %v, want a, c, b", got)
	}
	data, err := ExportFacts(l.Facts())
	if err != nil {
		t.Fatal(err)
	}
	in, err := ImportJSON(data)
	if err != nil {
		t.Fatal(err)
	}
	if !sameValue(in.Facts, l.Facts()) || len(in.Changes()) != 4 {
		t.Errorf("a reel did not survive export and import: %d changes", len(in.Changes()))
	}
	if _, err := l.Undo(); err != nil {
		t.Fatal(err)
	}
	if f := l.Facts(); len(f.Reels) != 0 || len(f.Parts) != 0 {
		t.Errorf("after undo there are %d reels and %d parts", len(f.Reels), len(f.Parts))
	}
}
