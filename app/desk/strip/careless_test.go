package strip

import (
	"image"
	"testing"
	"time"

	"whistlecut/timeline"
)

// Tags that lack what their kind should have are drawn as far as they go.
func TestCarelessTags(t *testing.T) {
	in := bout(t)
	at := func(s float64) timeline.Place { return timeline.OnFilm("film-1", sec(s)) }
	kinds := []timeline.Kind{
		timeline.KindJam, timeline.KindLineup, timeline.KindLead, timeline.KindLost, timeline.KindCall, timeline.KindStarPass,
		timeline.KindTrip, timeline.KindEvent, timeline.KindPenalty, timeline.KindBox, timeline.KindTimeout, timeline.KindReview,
		timeline.KindInjury, timeline.KindNote, timeline.KindMark, timeline.KindDrawing, timeline.KindExample, "of a later version",
	}
	for n, k := range kinds {
		for m, place := range []timeline.Place{at(100), at(-5), at(1e6), {}, timeline.InJam("nowhere", time.Second), timeline.JamAlone(in.Bout.Jams[0].ID)} {
			id := timeline.ID(string(rune('A'+n)) + string(rune('a'+m)))
			in.Facts.Tags[id] = timeline.Tag{ID: id, Kind: k, Place: place}
		}
	}
	in.Facts.Tags["wide"] = timeline.Tag{ID: "wide", Kind: timeline.KindPenalty, Place: at(101), Penalty: &timeline.PenaltyInfo{Code: "ÄÖÜÄÖÜ"}}
	in.Facts.Tags["box"] = timeline.Tag{ID: "box", Kind: timeline.KindBox, Place: at(102), Box: &timeline.BoxInfo{Out: at(90)}}
	in.Findings = append(in.Findings, Finding{Key: "lost", Place: timeline.JamAlone("nowhere")}, Finding{Key: "odd", Place: at(50), State: 200})
	in.Heard = append(in.Heard, Heard{}, Heard{Footage: "none", Blasts: []timeline.TimeRange{{}}}, Heard{Footage: "film-1", Blasts: []timeline.TimeRange{{Start: sec(9), End: sec(3)}}})
	in.Bout = timeline.Derive(in.Facts)
	a := NewAxis(Pieces(in.Facts, in.Camera, nil))
	m := Build(in, a)
	if _, ok := m.Find("wide"); !ok || m.Off == 0 {
		t.Errorf("penalty without a side shown: %v; %d tags off the camera", ok, m.Off)
	}
	p := painter(t)
	img := image.NewRGBA(image.Rect(0, 0, 900, NormalHeight))
	v := View{Axis: a, Model: m, Words: in.Words, Colours: Dark(), Now: sec(100), HasNow: true}
	for range 16 {
		p.Paint(img, 1, v)
		for x := 0.0; x < 900; x += 7 {
			for l := range laneCount {
				h := HitAt(p.Layout, a, m, x, middle(p.Layout, l))
				if h.Edge != NoEdge && h.Items[0].ID == "" {
					t.Fatalf("an item without an ID can be dragged: %+v", h.Items[0])
				}
			}
		}
		a.Zoom(1.8, a.X(sec(100)))
	}
}
