package logging

import (
	"testing"

	"whistlecut/timeline"
)

func TestStatus(t *testing.T) {
	home, away := timeline.Home, timeline.Away
	for name, c := range map[string]struct {
		keys  []Key
		said  Sentence // by the last key
		check func(b *bench) bool
	}{
		"lead":                   {[]Key{side(Lead, home)}, Silent, func(b *bench) bool { return b.home().Lead }},
		"lead twice":             {[]Key{side(Lead, home), side(Lead, home)}, AlreadyLead, func(b *bench) bool { return b.home().Lead }},
		"lead of both":           {[]Key{side(Lead, home), side(Lead, away)}, ThroughOnly, func(b *bench) bool { return !b.away().Lead && !b.away().NoInitial }},
		"lost":                   {[]Key{side(Lead, home), side(Lost, home)}, Silent, func(b *bench) bool { return b.home().Lost }},
		"lost twice":             {[]Key{side(Lost, home), side(Lost, home)}, AlreadyLost, func(b *bench) bool { return b.home().Lost }},
		"call-off by lead":       {[]Key{side(Lead, away), {Act: CallOff}}, Silent, func(b *bench) bool { return b.away().Called }},
		"call-off asks":          {[]Key{{Act: CallOff}}, WhoCalled, func(b *bench) bool { return b.m.Asking() == CallOff && !b.home().Called }},
		"call-off answered":      {[]Key{{Act: CallOff}, points(away, 3)}, Silent, func(b *bench) bool { return b.away().Called && len(b.away().Trips) == 0 }},
		"call-off after lost":    {[]Key{side(Lead, home), side(Lost, home), {Act: CallOff}}, WhoCalled, func(b *bench) bool { return !b.home().Called }},
		"question left":          {[]Key{{Act: CallOff}, {Act: Leave}}, Silent, func(b *bench) bool { return b.m.Asking() == NoAct }},
		"question passed over":   {[]Key{{Act: CallOff}, {Act: Injury}}, Silent, func(b *bench) bool { return b.m.Asking() == NoAct && b.jam().Ended == timeline.EndInjury }},
		"called twice":           {[]Key{side(Lead, home), {Act: Leave}, {Act: Leave}}, AlreadyCalled, func(b *bench) bool { return b.home().Called }},
		"injury":                 {[]Key{{Act: Injury}, {Act: Injury}}, AlreadyInjury, func(b *bench) bool { return b.jam().Ended == timeline.EndInjury }},
		"initial trip":           {[]Key{side(Initial, home)}, Silent, func(b *bench) bool { return b.home().Logged && !b.home().NoInitial }},
		"no initial trip":        {[]Key{side(Initial, home), side(Initial, home)}, Silent, func(b *bench) bool { return b.home().NoInitial }},
		"initial trip unsaid":    {[]Key{side(Initial, home), side(Initial, home), side(Initial, home)}, Silent, func(b *bench) bool { return len(b.jam().Tags) == 0 }},
		"star pass":              {[]Key{side(Star, away)}, Silent, func(b *bench) bool { return b.away().StarPass }},
		"star pass failed":       {[]Key{side(Star, away), side(Star, away)}, Silent, func(b *bench) bool { return !b.away().StarPass }},
		"star pass failed, then": {[]Key{side(Star, away), side(Star, away), side(Star, away)}, Silent, func(b *bench) bool { return b.away().StarPass && len(b.jam().Tags) == 2 }},
		"too many points":        {[]Key{points(home, 5)}, TooMany, func(b *bench) bool { return len(b.jam().Tags) == 0 }},
	} {
		t.Run(name, func(t *testing.T) {
			b := plain(t).started().at(seconds(120)).do(c.keys...)
			b.said(c.said)
			b.want(c.check(b), "the jam is %+v", b.jam())
		})
	}
}

func TestTripNumbers(t *testing.T) {
	home := timeline.Home
	b := plain(t).started()
	b.at(seconds(130)).do(points(home, 4))
	b.at(seconds(150)).do(points(home, 2))
	numbers := func(want ...int) {
		t.Helper()
		var got []int
		for _, x := range b.home().Trips {
			got = append(got, x.Number, x.Points.Low)
		}
		if len(got) != len(want) {
			t.Fatalf("trips and points %v, want %v", got, want)
		}
		for i := range got {
			if got[i] != want[i] {
				t.Fatalf("trips and points %v, want %v", got, want)
			}
		}
	}
	numbers(2, 4, 3, 2)
	// A trip forgotten between them goes where it was.
	b.at(seconds(140)).do(points(home, 1))
	numbers(2, 4, 3, 1, 4, 2)
	b.undo()
	numbers(2, 4, 3, 2)
	b.at(seconds(140)).do(points(home, 1))
	// The jam's end closes one trip a side; a second press corrects it.
	b.at(seconds(160)).do(edge())
	b.at(seconds(165)).do(points(home, 3), points(home, 0), points(timeline.Away, 0))
	numbers(2, 4, 3, 1, 4, 2, 5, 0)
	x := b.home().Trips[3]
	b.want(x.Open && x.End == seconds(60), "the last trip %+v", x)
	b.want(!b.away().NoInitial && b.away().Points == timeline.Exactly(0), "away got through: %+v", b.away())
	// Deleting one closes the gap.
	b.do(Key{Act: Choose, N: 1})
	for i, l := range b.view().Recent() {
		if l.What.Kind == timeline.KindTrip && l.What.Trip.Number == 3 {
			b.m.Pick(b.view(), b.view().Recent()[i].Entry)
		}
	}
	b.do(Key{Act: Delete})
	numbers(2, 4, 3, 2, 4, 0)
}
