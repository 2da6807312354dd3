package strip

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
)

// Everything the bout has stands on the strip, at the film time the alignment gives.
func TestModelHasTheWholeBout(t *testing.T) {
	in := bout(t)
	a := NewAxis(Pieces(in.Facts, in.Camera, nil))
	m := Build(in, a)
	if m.Off != 0 {
		t.Errorf("%d tags are off this camera, want none", m.Off)
	}
	count := map[Kind]int{}
	for _, r := range m.runs {
		for _, i := range r.items {
			count[i.Kind]++
			if i.From > i.To || i.From < 0 || i.To > a.Total() {
				t.Errorf("%v %s lies at %v to %v of %v", i.Kind, i.ID, i.From, i.To, a.Total())
			}
			if i.Tip == "" {
				t.Errorf("%v %s has nothing to say", i.Kind, i.ID)
			}
		}
	}
	tags := map[timeline.Kind]int{}
	for _, x := range in.Facts.Tags {
		tags[x.Kind]++
	}
	trips := 0
	for _, j := range in.Bout.Jams {
		for _, s := range j.Sides {
			trips += len(s.Trips)
		}
	}
	for _, c := range []struct {
		kind Kind
		want int
	}{
		{KindJam, len(in.Bout.Jams)},
		{KindTrip, trips},
		{KindBox, len(in.Bout.Visits)},
		{KindPenalty, tags[timeline.KindPenalty]},
		{KindLead, tags[timeline.KindLead]},
		{KindStarPass, tags[timeline.KindStarPass]},
		{KindTimeout, tags[timeline.KindTimeout]},
		{KindReview, tags[timeline.KindReview]},
		{KindSeries, len(in.Heard)},
		{KindFinding, len(in.Findings)},
	} {
		if count[c.kind] != c.want {
			t.Errorf("kind %d: %d items, want %d", c.kind, count[c.kind], c.want)
		}
	}
	for _, j := range in.Bout.Jams {
		i, ok := m.Find(j.ID)
		footage, film, _ := a.Film(i.From)
		f, at, _ := in.Bout.Alignment.FilmOf(timeline.InJam(j.ID, 0))
		if !ok || footage != f || (film-at).Abs() > time.Microsecond || (i.To-i.From-j.Duration).Abs() > time.Millisecond {
			t.Errorf("jam %s stands at %s %v for %v, want %s %v for %v", j.Name(), footage, film, i.To-i.From, f, at, j.Duration)
		}
	}
}

func TestMarginEndsAtTheScore(t *testing.T) {
	in := bout(t)
	m := Build(in, NewAxis(Pieces(in.Facts, in.Camera, nil)))
	low, high := marginAt(m.margin, 100*time.Hour)
	s := in.Bout.Score
	if low != s[0].Low-s[1].High || high != s[0].High-s[1].Low {
		t.Errorf("the margin ends at %d to %d; the score is %v to %v", low, high, s[0], s[1])
	}
	if low == high {
		t.Error("no trip of this bout is unsure; the range is not tested")
	}
	if low, high := marginAt(m.margin, 0); low != 0 || high != 0 {
		t.Errorf("the margin begins at %d to %d", low, high)
	}
}

func TestWithoutFilmNothingIsShown(t *testing.T) {
	in := bout(t)
	in.Facts.Footage, in.Facts.Marks = nil, nil
	in.Bout = timeline.Derive(in.Facts)
	m := Build(in, NewAxis(nil))
	if m.Len() != 0 || m.Off == 0 {
		t.Errorf("%d items, %d off", m.Len(), m.Off)
	}
}

// The look-up finds what a walk over everything finds.
func TestRunFindsWhatTouchesTheWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var items []Item
		for range rapid.IntRange(0, 40).Draw(t, "n") {
			from := time.Duration(rapid.IntRange(0, 1000).Draw(t, "from"))
			items = append(items, Item{Kind: KindBox, Side: timeline.Home, From: from, To: from + time.Duration(rapid.IntRange(0, 300).Draw(t, "length"))})
		}
		m := newModel(items, nil)
		lo := time.Duration(rapid.IntRange(-50, 1100).Draw(t, "lo"))
		hi := lo + time.Duration(rapid.IntRange(0, 200).Draw(t, "span"))
		got := m.runs[LaneHomeBox].in(lo, hi)
		n := 0
		for _, i := range got {
			if i.To >= lo && i.From <= hi {
				n++
			}
		}
		want := 0
		for _, i := range items {
			if i.To >= lo && i.From <= hi {
				want++
			}
		}
		if n != want {
			t.Errorf("%d items touch %v..%v, found %d", want, lo, hi, n)
		}
	})
}

// Visits in different rows only where they overlap, and never two in one place
// while there are rows.
func TestStackKeepsVisitsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var items []Item
		at := 0
		for range rapid.IntRange(1, 30).Draw(t, "n") {
			at += rapid.IntRange(0, 40).Draw(t, "later")
			items = append(items, Item{From: time.Duration(at), To: time.Duration(at + rapid.IntRange(1, 60).Draw(t, "length"))})
		}
		stack(items)
		for n, i := range items {
			if i.Row >= i.Rows || i.Rows > stackRows {
				t.Fatalf("row %d of %d", i.Row, i.Rows)
			}
			over := 0
			for k, o := range items {
				if k != n && o.From < i.To && i.From < o.To {
					over++
					if o.Row == i.Row && o.Row < stackRows-1 {
						t.Fatalf("%v..%v and %v..%v share row %d", i.From, i.To, o.From, o.To, o.Row)
					}
				}
			}
			if over == 0 && i.Rows != 1 {
				t.Fatalf("a visit on its own has row %d of %d", i.Row, i.Rows)
			}
		}
	})
}
