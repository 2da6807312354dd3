package logging

import (
	"testing"

	"whistlecut/timeline"
)

// TestStops: timeouts and reviews are asked whose, follow the jam before, end by
// the same key, and can be corrected and removed like any other tag.
func TestStops(t *testing.T) {
	home, away := timeline.Home, timeline.Away
	stop := Key{Act: Timeout}
	look := Key{Act: Review}
	one := func(b *bench) (timeline.Break, timeline.Tag) {
		if len(b.bout.Breaks) != 1 {
			t.Errorf("%d timeouts and reviews", len(b.bout.Breaks))
			return timeline.Break{}, timeline.Tag{}
		}
		return b.bout.Breaks[0], b.facts.Tags[b.bout.Breaks[0].Tag]
	}
	for name, c := range map[string]struct {
		keys  []Key
		then  []Key // ten seconds on
		said  Sentence
		check func(b *bench) bool
	}{
		"asks whose": {[]Key{stop}, nil, WhoseTimeout, func(b *bench) bool { return b.m.Asking() == Timeout && len(b.bout.Breaks) == 0 }},
		"of a side": {[]Key{stop, points(away, 2)}, nil, Silent, func(b *bench) bool {
			x, _ := one(b)
			return x.Side == away && x.AfterJam == 0 && len(b.away().Trips) == 0
		}},
		"of the officials":      {[]Key{stop, edge()}, nil, Silent, func(b *bench) bool { x, _ := one(b); return x.Side == timeline.NoSide && len(b.bout.Jams) == 1 }},
		"by the key again":      {[]Key{stop, stop}, nil, Silent, func(b *bench) bool { x, _ := one(b); return x.Side == timeline.NoSide }},
		"left":                  {[]Key{stop, {Act: Leave}}, nil, Silent, func(b *bench) bool { return b.m.Asking() == NoAct && len(b.bout.Breaks) == 0 }},
		"passed over":           {[]Key{look, {Act: Injury}}, nil, Silent, func(b *bench) bool { return b.m.Asking() == NoAct && len(b.bout.Breaks) == 0 }},
		"ends":                  {[]Key{stop, points(home, 0)}, []Key{stop}, Silent, func(b *bench) bool { _, x := one(b); return x.Timeout.End.Film == seconds(180) }},
		"another one after it":  {[]Key{stop, points(home, 0)}, []Key{stop, stop}, WhoseTimeout, func(b *bench) bool { return b.m.Asking() == Timeout }},
		"review":                {[]Key{look, points(home, 0)}, nil, Silent, func(b *bench) bool { x, _ := one(b); return x.Kind == timeline.KindReview && x.Side == home }},
		"review is no timeout":  {[]Key{look, edge()}, nil, Silent, func(b *bench) bool { return len(b.bout.Breaks) == 0 }},
		"review ends, retained": {[]Key{look, points(home, 0)}, []Key{look, look}, Silent, func(b *bench) bool { _, x := one(b); return !x.Review.End.IsZero() && x.Review.Retained }},
		"not retained after all": {
			[]Key{look, points(home, 0)},
			[]Key{look, look, look},
			Silent, func(b *bench) bool { _, x := one(b); return !x.Review.Retained },
		},
		"removed": {[]Key{stop, points(home, 0), {Act: Choose}, {Act: Delete}}, nil, Silent, func(b *bench) bool { return len(b.bout.Breaks) == 0 }},
	} {
		t.Run(name, func(t *testing.T) {
			b := plain(t).started().at(seconds(160)).do(edge())
			b.at(seconds(170)).do(c.keys...)
			if c.then != nil {
				b.at(seconds(180)).do(c.then...)
			}
			b.said(c.said)
			b.want(c.check(b), "timeouts and reviews: %+v", b.bout.Breaks)
		})
	}
}

// TestStopUndone: a timeout is one action, and its undoing takes it away.
func TestStopUndone(t *testing.T) {
	b := plain(t).started().at(seconds(160)).do(edge())
	b.at(seconds(170)).do(Key{Act: Timeout}, points(timeline.Home, 1))
	b.want(len(b.bout.Breaks) == 1, "%d stops", len(b.bout.Breaks))
	b.undo()
	b.want(len(b.bout.Breaks) == 0, "%d stops after undo", len(b.bout.Breaks))
}

// TestStopWithoutJam: a timeout that no jam tells the time of is refused at once.
func TestStopWithoutJam(t *testing.T) {
	b := plain(t).at(seconds(20)).do(Key{Act: Timeout})
	b.said(NoJam)
	b.want(b.m.Asking() == NoAct, "it asks %v", b.m.Asking())
}
