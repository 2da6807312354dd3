package logging

import (
	"testing"

	"whistlecut/timeline"
)

func TestJamEdges(t *testing.T) {
	b := plain(t)
	b.at(seconds(10)).do(points(timeline.Home, 4))
	b.said(NoJam)
	b.at(seconds(100)).do(edge())
	b.want(len(b.bout.Jams) == 1 && b.jam().Period == 1 && b.jam().Number == 1, "jams %+v", b.bout.Jams)
	b.want(b.out.Did.What == JamStart && b.out.Did.Jam == 1 && b.out.Did.Period == 1, "did %+v", b.out.Did)
	b.at(seconds(101)).do(edge())
	b.said(TooSoon)
	b.at(seconds(160)).do(edge())
	b.want(b.jam().Duration == seconds(60) && b.out.Did.What == JamEnd, "ended after %v", b.jam().Duration)
	b.want(b.at(seconds(159)).view().Standing().State == Running, "running before its end")
	b.want(b.at(seconds(170)).view().Standing().State == Over, "over behind its end")
	b.at(seconds(190)).do(edge())
	b.want(len(b.bout.Jams) == 2 && b.jam().Number == 2, "jams %+v", b.bout.Jams)
	b.want(b.at(seconds(190+126)).view().Standing().State == Over, "a jam without an end is over after its full length")
	b.at(seconds(400)).do(Key{Act: NextPeriod})
	b.want(b.jam().Period == 2 && b.jam().Number == 1, "next period: %s", b.jam().Name())
	b.at(seconds(600)).do(Key{Act: NextPeriod})
	b.want(b.jam().Period == 2 && b.jam().Number == 2 && b.jam().Overtime, "overtime: %+v", b.jam())

	// A jam that was forgotten goes between the others.
	b.at(seconds(330)).do(edge())
	b.want(b.bout.Jams[2].Number == 3 && b.bout.Jams[2].Period == 1, "between: %s", b.bout.Jams[2].Name())
	b.at(seconds(350)).do(edge())
	b.at(seconds(399)).do(edge())
	b.said(StartsSoon)
	b.undo()
	b.undo()
	b.want(len(b.bout.Jams) == 4, "%d jams after undo", len(b.bout.Jams))
}

func TestBeforeTheFirstJam(t *testing.T) {
	b := plain(t).started()
	b.at(seconds(20)).do(edge())
	b.want(len(b.bout.Jams) == 2 && b.bout.Jams[0].Start.Film == seconds(20), "jams %+v", b.bout.Jams)
}

func TestKnownJamsAreFilled(t *testing.T) {
	b := plain(t)
	for i, id := range []timeline.ID{"one", "two"} {
		b.apply(timeline.SetTag(timeline.Tag{ID: id, Kind: timeline.KindJam, Place: timeline.JamAlone(id), JamInfo: &timeline.JamInfo{Period: 1, Order: float64(i)}}))
	}
	b.at(seconds(100)).do(edge())
	b.want(len(b.bout.Jams) == 2 && b.bout.Jams[0].Start == timeline.OnFilm(film, seconds(100)), "the first is placed: %+v", b.bout.Jams[0])
	// The second was placed by ear: nothing is to be started, the jam is there.
	b.apply(timeline.SetMark(timeline.SyncMark{ID: "m", Jam: "two", Edge: timeline.EdgeStart, Footage: film, Film: seconds(200), Confidence: 0.9}))
	b.at(seconds(205)).do(side(Lead, timeline.Home))
	b.want(b.bout.Jams[1].Sides[0].Lead, "lead is logged in the jam heard")
	b.at(seconds(250)).do(edge())
	b.want(len(b.bout.Jams) == 2 && b.bout.Jams[1].Duration == seconds(50), "Enter ends it: %+v", b.bout.Jams[1].Duration)
}

func TestOtherCamera(t *testing.T) {
	b := plain(t).started()
	b.apply(timeline.SetFootage(timeline.Footage{ID: "roof", Path: "roof.mp4", Camera: "roof", Order: 1}))
	b.now.Footage = "roof"
	b.do(edge())
	b.said(OtherCamera)
	b.apply(timeline.SetFootage(timeline.Footage{ID: "film2", Path: "hall2.mp4", Camera: "hall", Order: 2}))
	b.now = Now{"film2", seconds(5)}
	b.do(edge())
	b.want(len(b.bout.Jams) == 2 && b.jam().Number == 2, "the next file of the camera goes on: %+v", b.bout.Jams)
	b.now.Footage = ""
	b.do(edge())
	b.said(NoFilm)
}

func TestHowEnded(t *testing.T) {
	b := plain(t).started().at(seconds(130))
	for _, want := range []timeline.Ended{timeline.EndOfficial, timeline.EndNoJammer, timeline.EndTime, timeline.EndUnknown} {
		b.do(Key{Act: HowEnded})
		b.want(b.jam().Ended == want, "ended %q, want %q", b.jam().Ended, want)
	}
}

func TestOvertime(t *testing.T) {
	b := plain(t).started()
	b.at(seconds(400)).do(Key{Act: NextPeriod})
	b.at(seconds(800)).do(Key{Act: NextPeriod})
	b.at(seconds(820)).do(points(timeline.Home, 3))
	b.at(seconds(840)).do(points(timeline.Home, 4))
	b.want(b.home().Points == timeline.Exactly(7) && b.home().Trips[0].Number == 1, "in overtime the initial trip scores: %+v", b.home().Trips)
}
