package strip

import (
	"fmt"
	"image"
	"slices"
	"time"

	"whistlecut/app/desk/look"
	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
	"whistlecut/timeline/whistle"
)

// Measured is how long the strip takes with so many tags.
type Measured struct {
	Tags, Items int
	Build       time.Duration // making the model
	// Paint is the middle and the slowest tenth of single pictures, of the whole
	// bout and of windows all over it.
	Whole, WholeP90 time.Duration
	Part, PartP90   time.Duration
}

// Measure paints an invented full bout with at least so many tags into pictures
// of w by h pixels, a few hundred times.
func Measure(tags, w, h int, fonts Fonts) (Measured, error) {
	p, err := NewPainter(fonts)
	if err != nil {
		return Measured{}, err
	}
	in := Invented(1, 0, tags)
	axis := NewAxis(Pieces(in.Facts, in.Camera, nil))
	m := Measured{Tags: len(in.Facts.Tags)}
	start := time.Now()
	model := Build(in, axis)
	m.Build, m.Items = time.Since(start), model.Len()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	v := View{Axis: axis, Model: model, Words: in.Words, Colours: From(look.DarkPalette), Now: axis.Total() / 2, HasNow: true}
	run := func(n int, move func(k int)) (mid, slow time.Duration) {
		var took []time.Duration
		for k := range n {
			move(k)
			start := time.Now()
			p.Paint(img, 1, v)
			took = append(took, time.Since(start))
		}
		slices.Sort(took)
		return took[n/2], took[n*9/10]
	}
	p.Paint(img, 1, v) // glyphs and signs are made once
	m.Whole, m.WholeP90 = run(100, func(int) { axis.ShowAll() })
	m.Part, m.PartP90 = run(200, func(k int) {
		axis.ShowAll()
		axis.Zoom(float64(int(1)<<(k%12)), float64(w)*float64(k%17)/17)
	})
	return m, nil
}

// Invented is a simulated bout on two files of one camera, with the whistles
// as they were blown and a few findings. minutes limits each period (0: full
// length); notes, marks and penalties are added until there are so many tags.
func Invented(seed uint64, minutes, tags int) Input {
	g := simulate.Play(seed, simulate.Options{PeriodLength: time.Duration(minutes) * time.Minute})
	f := g.Facts()
	f.Footage = map[timeline.ID]timeline.Footage{}
	f.Marks = map[timeline.ID]timeline.SyncMark{}
	cut := g.Duration() / 2
	for _, j := range g.Truth.Jams {
		if j.Period == 2 {
			cut = j.Start - 30*time.Second
			break
		}
	}
	file := func(at time.Duration) (timeline.ID, time.Duration) {
		if at < cut {
			return "film-1", at
		}
		return "film-2", at - cut
	}
	f.Footage["film-1"] = timeline.Footage{ID: "film-1", Camera: "stand", Order: 1, Duration: cut}
	f.Footage["film-2"] = timeline.Footage{ID: "film-2", Camera: "stand", Order: 2, Duration: g.Duration() - cut}
	for _, j := range g.Truth.Jams {
		id, at := file(j.Start)
		f.Marks["mark-"+j.ID] = timeline.SyncMark{Jam: j.ID, Edge: timeline.EdgeStart, Footage: id, Film: at, Hand: true}
	}
	fill(f, file, g.Duration(), tags)
	in := Input{Facts: f, Bout: timeline.Derive(f), Camera: "stand", Words: English()}
	in.Heard = inventedHeard(g, file)
	in.Findings = inventedFindings(in.Bout)
	return in
}

// fill adds tags all over the film until there are enough.
func fill(f timeline.Facts, file func(time.Duration) (timeline.ID, time.Duration), length time.Duration, tags int) {
	for k := 0; len(f.Tags) < tags; k++ {
		footage, at := file(time.Duration((k*7919)%100_003) * length / 100_003)
		t := timeline.Tag{ID: timeline.ID(fmt.Sprintf("extra-%06d", k)), Kind: timeline.KindMark, Place: timeline.OnFilm(footage, at)}
		switch k % 4 {
		case 1:
			t.Kind, t.Note = timeline.KindNote, "look at the bridge"
		case 2:
			t.Kind, t.Side, t.Penalty = timeline.KindPenalty, timeline.Sides[k/4%2], &timeline.PenaltyInfo{Code: "F"}
		case 3:
			t.Kind, t.Side, t.Box = timeline.KindBox, timeline.Sides[k/4%2], &timeline.BoxInfo{Out: timeline.OnFilm(footage, at+30*time.Second)}
			t.Who.Number = timeline.Number(fmt.Sprint(100 + k%40))
		}
		f.Tags[t.ID] = t
	}
}

func inventedHeard(g *simulate.Game, file func(time.Duration) (timeline.ID, time.Duration)) []Heard {
	kinds := map[simulate.WhistleKind]whistle.Kind{
		simulate.WhistleJamStart: whistle.Short, simulate.WhistleLead: whistle.Pair, simulate.WhistleJamEnd: whistle.Four,
		simulate.WhistleTimeout: whistle.Four, simulate.WhistlePenalty: whistle.Long,
		simulate.WhistleTimeoutEnd: whistle.Rolling, simulate.WhistlePeriodEnd: whistle.Rolling,
	}
	var out []Heard
	for k, w := range g.Whistles() {
		if w.Echo {
			continue
		}
		h := Heard{Kind: kinds[w.Kind], Confidence: 0.97}
		if k%29 == 28 {
			h.Kind, h.Confidence = whistle.Unclear, 0.4
		}
		id, at := file(w.At())
		h.Footage = id
		for _, b := range w.Blasts {
			h.Blasts = append(h.Blasts, timeline.TimeRange{Start: at + b.Start - w.At(), End: at + b.End - w.At()})
		}
		out = append(out, h)
	}
	return out
}

func inventedFindings(b timeline.Bout) []Finding {
	texts := [4]string{
		Agrees: "trip 2: sheet and tags agree", NotCheckable: "no line-up on film: cannot be checked",
		Unsure: "trip 3 was not seen: one tag would settle it", Differs: "trip 2: the sheet has 3, the tags 4",
	}
	var out []Finding
	for n := 2; n < len(b.Jams); n += 5 {
		j, state := b.Jams[n], State(3-(n/5)%4)
		out = append(out, Finding{
			Key: timeline.ID(fmt.Sprintf("finding-%d", n)), Place: timeline.InJam(j.ID, j.Duration/2),
			Side: timeline.Sides[n%2], State: state, Text: texts[state],
		})
	}
	return out
}
