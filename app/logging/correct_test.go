package logging

import (
	"testing"
	"time"

	"whistlecut/timeline"
)

// seenJam is a jam with home lead, two home trips and an away one.
func seenJam(t tester) *bench {
	b := plain(t).started()
	b.m.prompts = nil
	b.at(seconds(110)).do(side(Lead, timeline.Home))
	b.at(seconds(130)).do(points(timeline.Home, 4))
	b.at(seconds(140)).do(points(timeline.Away, 2))
	b.at(seconds(150)).do(points(timeline.Home, 3))
	return b
}

func TestNotSeen(t *testing.T) {
	for name, c := range map[string]struct {
		do   func(b *bench)
		want [2]timeline.Range
	}{
		"the last entry":        {func(b *bench) { b.do(Key{Act: NotSeen}) }, [2]timeline.Range{{Low: 4, High: 8}, {Low: 2, High: 2}}},
		"the next entry":        {func(b *bench) { b.at(seconds(160)).do(Key{Act: NotSeen}, points(timeline.Away, 1)) }, [2]timeline.Range{{Low: 7, High: 7}, {Low: 2, High: 6}}},
		"taken back":            {func(b *bench) { b.at(seconds(160)).do(Key{Act: NotSeen}, Key{Act: NotSeen}, points(timeline.Away, 1)) }, [2]timeline.Range{{Low: 7, High: 7}, {Low: 3, High: 3}}},
		"the chosen one":        {func(b *bench) { b.do(Key{Act: Choose, N: 1}, Key{Act: Choose, N: 2}, Key{Act: NotSeen}) }, [2]timeline.Range{{Low: 3, High: 7}, {Low: 2, High: 2}}},
		"unsure":                {func(b *bench) { b.do(Key{Act: Unsure}) }, [2]timeline.Range{{Low: 6, High: 8}, {Low: 2, High: 2}}},
		"unsure, sure again":    {func(b *bench) { b.do(Key{Act: Unsure}, Key{Act: Unsure}) }, [2]timeline.Range{{Low: 7, High: 7}, {Low: 2, High: 2}}},
		"settled by the points": {func(b *bench) { b.do(Key{Act: NotSeen}, Key{Act: Settle}, points(timeline.Home, 1)) }, [2]timeline.Range{{Low: 5, High: 5}, {Low: 2, High: 2}}},
	} {
		t.Run(name, func(t *testing.T) {
			b := seenJam(t)
			c.do(b)
			b.want(b.home().Points == c.want[0] && b.away().Points == c.want[1], "points %v and %v", b.home().Points, b.away().Points)
		})
	}
}

func TestCorrect(t *testing.T) {
	pick := func(b *bench, n int) *bench {
		for range n {
			b.do(Key{Act: Choose, N: 1})
		}
		return b
	}
	total := func(b *bench) [2]int { return [2]int{b.home().Points.Low, b.away().Points.Low} }
	b := pick(seenJam(t), 1).do(points(timeline.Home, 1))
	b.want(total(b) == [2]int{5, 2}, "other points: %v", total(b))
	b.do(points(timeline.Away, 1))
	b.want(total(b) == [2]int{4, 3} && b.away().Trips[1].Number == 3, "the other side: %v", b.away().Trips)
	b.undo()
	b.want(total(b) == [2]int{5, 2}, "undone: %v", total(b))
	b.do(Key{Act: Leave}, Key{Act: Leave})
	b.want(b.home().Called, "Escape left the choice first, then called off")

	b = pick(seenJam(t), 3)
	b.do(Key{Act: Digit, N: 2})
	b.want(total(b) == [2]int{5, 2}, "a digit is points: %v", total(b))
	b.at(seconds(155)).do(Key{Act: MoveHere})
	b.want(b.home().Trips[1].Number == 3 && b.home().Trips[1].Points.Low == 2 && b.home().Trips[1].End == seconds(55), "moved behind the other: %+v", b.home().Trips)
	b.do(Key{Act: Nudge, By: -40 * time.Millisecond})
	b.want(b.home().Trips[1].End == seconds(54.96), "nudged: %+v", b.home().Trips[1])
	b.at(seconds(170))
	_, ok := b.m.Chosen()
	b.want(!ok, "the choice lapses when the film runs on")
	b.do(points(timeline.Home, 0))
	b.want(len(b.home().Trips) == 3, "so that the key logs a trip: %+v", b.home().Trips)

	b = pick(seenJam(t), 5).do(Key{Act: Delete})
	b.said(JamInUse)
	b = pick(seenJam(t), 4).do(Key{Act: Delete})
	b.want(!b.home().Lead && b.out.Did.What == Removed, "lead is gone: %+v", b.out)
	b = seenJam(t).do(Key{Act: Delete})
	b.said(NothingChosen)
	b = seenJam(t).at(seconds(160)).do(edge())
	pick(b, 1).do(Key{Act: Delete})
	b.want(b.jam().Duration == 0 && b.out.Did.What == EndGone, "the end is gone: %+v", b.jam().Duration)
	b = pick(seenJam(t), 5).at(seconds(99)).do(Key{Act: MoveHere})
	b.want(b.jam().Start.Film == seconds(99) && b.home().LeadAt == seconds(11), "the jam starts earlier: %+v", b.jam().Start)
	b = seenJam(t).at(seconds(155)).do(side(Box, timeline.Home), Key{Act: Choose, N: 1}).at(seconds(140)).do(side(Box, timeline.Home))
	b.said(BackToFront)
	b = plain(t).started().do(Key{Act: Choose, N: 1}, Key{Act: Delete})
	b.want(len(b.bout.Jams) == 0, "an empty jam can go")
}

func TestSettle(t *testing.T) {
	b := seenJam(t).at(seconds(151)).do(Key{Act: NotSeen})
	b.at(seconds(155)).do(side(Penalty, timeline.Away), Key{Act: NotSeen})
	b.at(seconds(160)).do(edge())
	list := b.view().Unsettled()
	b.want(len(list) == 2 && list[0].What == OpenValue && list[1].What == OpenSkater, "open: %+v", list)
	b.at(seconds(120)).do(Key{Act: Settle})
	b.want(b.out.Goes && b.out.Go == timeline.OnFilm(film, seconds(147)), "goes to %+v", b.out.Go)
	b.do(Key{Act: Settle, N: -1}, Key{Act: Settle, N: -1})
	b.want(b.out.Go == timeline.OnFilm(film, seconds(147)), "backwards and round goes to %+v", b.out.Go)
	b.at(b.out.Go.Film).do(points(timeline.Home, 2), Key{Act: Settle})
	b.want(b.out.Go == timeline.OnFilm(film, seconds(152)), "goes to %+v", b.out.Go)
	b.at(b.out.Go.Film).typed("61").do(Key{Act: Code, Letter: "X"}, Key{Act: Settle})
	b.said(NothingOpen)
	b.want(b.home().Points == timeline.Exactly(6), "points %v", b.home().Points)
	tag := b.facts.Tags[b.away().Penalties[0]]
	b.want(tag.Who.Number == "61" && tag.Penalty.Code == "X", "penalty %+v", tag)
}

// TestUndo: taking back every key in turn leaves the bout as it was.
func TestUndo(t *testing.T) {
	b := plain(t)
	b.at(seconds(100))
	var was []int
	steps := func(ks ...Key) {
		for _, k := range ks {
			n := len(b.facts.Tags)
			if b.press(k); len(b.out.Changes) > 0 {
				was = append(was, n)
			}
		}
	}
	steps(edge(), Key{Act: NotSeen}, Key{Act: NotSeen})
	b.at(seconds(120))
	steps(side(Lead, timeline.Home), points(timeline.Home, 4), points(timeline.Home, 3), side(Star, timeline.Away), side(Penalty, timeline.Away), Key{Act: Code, Letter: "X"}, side(Box, timeline.Home))
	b.at(seconds(150))
	steps(edge(), points(timeline.Away, 0))
	for i := len(was) - 1; i >= 0; i-- {
		b.undo()
		b.want(len(b.facts.Tags) == was[i], "%d tags after undo, want %d", len(b.facts.Tags), was[i])
	}
	b.want(len(b.bout.Jams) == 0, "everything is undone: %+v", b.facts.Tags)
}
