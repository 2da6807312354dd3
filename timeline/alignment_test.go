package timeline

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// twoCameras is a bout on two cameras. The stand has two files with a gap: a
// shows jams 1 and 2, b jam 3. The turn has one file that shows all, started 100 s
// before a; b starts 200 s after a's start.
//
//	real time   0        20   60(1)   170(2)       200      250(3)
//	stand a     0                 60     170  [end 190]
//	stand b                                        0         50
//	turn  t     100               160    270       300      350
func twoCameras() *boutMaker {
	m := newBout()
	m.f.Footage["a"] = Footage{Camera: "stand", Order: 1, Duration: sec(190)}
	m.f.Footage["b"] = Footage{Camera: "stand", Order: 2, Duration: sec(150)}
	m.f.Footage["t"] = Footage{Camera: "turn", Order: 1, Duration: sec(600)}
	m.add(Tag{ID: "j1", Kind: KindJam, Place: OnFilm("a", sec(60)), JamInfo: &JamInfo{Period: 1, Order: 1, End: OnFilm("a", sec(130))}})
	m.add(Tag{ID: "j2", Kind: KindJam, Place: OnFilm("a", sec(170)), JamInfo: &JamInfo{Period: 1, Order: 2}})
	m.add(Tag{ID: "j3", Kind: KindJam, Place: OnFilm("b", sec(50)), JamInfo: &JamInfo{Period: 1, Order: 3}})
	m.mark("m1", "j1", EdgeStart, "t", sec(160))
	m.mark("m3", "j3", EdgeStart, "t", sec(350))
	return m
}

func (m *boutMaker) mark(id, jam ID, e Edge, film ID, at time.Duration) {
	m.f.Marks[id] = SyncMark{ID: id, Jam: jam, Edge: e, Footage: film, Film: at, Hand: true}
}

func TestFilmOf(t *testing.T) {
	a := Derive(twoCameras().f).Alignment
	tests := []struct {
		name  string
		place Place
		film  map[string]FilmSpot // by camera; a camera left out must not show it
	}{
		{"start of a jam anchored on both", InJam("j1", 0), map[string]FilmSpot{"stand": {"stand", "a", sec(60)}, "turn": {"turn", "t", sec(160)}}},
		{"jam anchored on one, the other carries it over", InJam("j2", sec(5)), map[string]FilmSpot{"stand": {"stand", "a", sec(175)}, "turn": {"turn", "t", sec(275)}}},
		{"after the stand's file ended", InJam("j2", sec(25)), map[string]FilmSpot{"turn": {"turn", "t", sec(295)}}},
		{"line-up before a jam", InJam("j3", sec(-10)), map[string]FilmSpot{"stand": {"stand", "b", sec(40)}, "turn": {"turn", "t", sec(340)}}},
		{"a film place on the other camera", OnFilm("b", sec(70)), map[string]FilmSpot{"stand": {"stand", "b", sec(70)}, "turn": {"turn", "t", sec(370)}}},
		{"before the first jam", OnFilm("t", sec(110)), map[string]FilmSpot{"stand": {"stand", "a", sec(10)}, "turn": {"turn", "t", sec(110)}}},
		{"a jam alone has no time", JamAlone("j1"), nil},
		{"a film nobody knows", OnFilm("x", sec(1)), nil},
		{"a jam nobody knows", InJam("x", sec(1)), nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := map[string]FilmSpot{}
			for _, s := range a.Films(tt.place) {
				got[s.Camera] = s
			}
			if len(got) != len(tt.film) {
				t.Fatalf("films %v, want %v", got, tt.film)
			}
			for cam, want := range tt.film {
				g := got[cam]
				if g.Footage != want.Footage || absDuration(g.Film-want.Film) > time.Millisecond {
					t.Errorf("%s: %v, want %v", cam, g, want)
				}
				if f, _, ok := a.FilmOn(cam, tt.place); !ok || f != want.Footage {
					t.Errorf("FilmOn(%s) = %v %v", cam, f, ok)
				}
			}
			if _, _, ok := a.FilmOf(tt.place); ok != (len(tt.film) > 0) {
				t.Errorf("FilmOf ok = %v", ok)
			}
		})
	}
}

func TestJamAt(t *testing.T) {
	a := Derive(twoCameras().f).Alignment
	tests := []struct {
		name   string
		film   ID
		at     time.Duration
		jam    ID
		offset time.Duration
		ok     bool
	}{
		{"inside", "a", sec(75), "j1", sec(15), true},
		{"at the start whistle", "a", sec(170), "j2", 0, true},
		{"other camera", "t", sec(280), "j2", sec(10), true},
		{"before all", "a", sec(3), "", 0, false},
		{"unknown film", "x", sec(3), "", 0, false},
		{"start of the second file lies in jam 2", "b", sec(0), "j2", sec(30), true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			jam, off, ok := a.JamAt(tt.film, tt.at)
			if jam != tt.jam || absDuration(off-tt.offset) > time.Millisecond || ok != tt.ok {
				t.Errorf("got %v %v %v", jam, off, ok)
			}
		})
	}
}

// Without a mark that two films share, nothing relates them: the second file's
// jam has no bout time, and nothing is made up.
func TestUnrelatedFilmsStayUnrelated(t *testing.T) {
	m := twoCameras()
	delete(m.f.Footage, "t")
	delete(m.f.Marks, "m1")
	delete(m.f.Marks, "m3")
	b := Derive(m.f)
	if !b.Jams[1].BoutTimeKnown || b.Jams[1].BoutTime != sec(110) {
		t.Errorf("jam 2: bout time %v %v, want 110 s", b.Jams[1].BoutTime, b.Jams[1].BoutTimeKnown)
	}
	if b.Jams[2].BoutTimeKnown || b.Jams[2].ClockKnown {
		t.Errorf("jam 3 is on a film nothing relates to the first, yet bout time %v, clock %v are known", b.Jams[2].BoutTime, b.Jams[2].ClockAtStart)
	}
	if n := len(b.Alignment.Stretches); n != 2 || b.Alignment.Stretches[0].Group == b.Alignment.Stretches[1].Group {
		t.Errorf("stretches %+v", b.Alignment.Stretches)
	}
	if jam, _, ok := b.Alignment.JamAt("b", sec(10)); ok {
		t.Errorf("40 s before jam 3 on film b is said to lie in %s", jam)
	}
}

// Chapter files of one recording are one stretch: jam 1 runs over the seam.
func TestJoinedFiles(t *testing.T) {
	m := newBout()
	m.f.Footage["a"] = Footage{Camera: "stand", Order: 1, Duration: sec(100)}
	m.f.Footage["b"] = Footage{Camera: "stand", Order: 2, Duration: sec(100), Joined: true}
	m.add(Tag{ID: "j1", Kind: KindJam, Place: OnFilm("a", sec(70)), JamInfo: &JamInfo{Period: 1, Order: 1, End: OnFilm("b", sec(10))}})
	b := Derive(m.f)
	if b.Jams[0].Duration != sec(40) {
		t.Errorf("duration %v, want 30 s on the first file and 10 s on the second", b.Jams[0].Duration)
	}
	parts, whole := b.Alignment.FilmRange("j1", TimeRange{sec(20), sec(35)})
	want := []FilmStretch{{"stand", "a", sec(90), sec(100)}, {"stand", "b", 0, sec(5)}}
	if !whole || len(parts) != 2 || parts[0] != want[0] || parts[1] != want[1] {
		t.Errorf("parts %v %v, want %v", parts, whole, want)
	}
}

// A range of a file is the bout; what lies outside is not on film.
func TestRangeOfFile(t *testing.T) {
	m := newBout()
	m.f.Footage["a"] = Footage{Camera: "stand", Duration: sec(1000), Range: TimeRange{sec(100), sec(200)}}
	m.add(Tag{ID: "j1", Kind: KindJam, Place: OnFilm("a", sec(150)), JamInfo: &JamInfo{Period: 1}})
	a := Derive(m.f).Alignment
	if _, _, ok := a.FilmOf(InJam("j1", sec(60))); ok {
		t.Error("film time 210 s lies outside the range and is shown")
	}
	if _, film, ok := a.FilmOf(InJam("j1", sec(49))); !ok || film != sec(199) {
		t.Errorf("film %v %v, want 199 s", film, ok)
	}
	if _, whole := a.FilmRange("j1", TimeRange{sec(40), sec(60)}); whole {
		t.Error("a stretch past the range counts as wholly shown")
	}
}

// A hand mark beats what was heard and the jam's own tag; two that differ are
// reported.
func TestMarksRank(t *testing.T) {
	m := twoCameras()
	m.f.Marks["heard"] = SyncMark{Jam: "j2", Edge: EdgeStart, Footage: "a", Film: sec(171), Confidence: 0.99}
	b := Derive(m.f)
	if _, film, _ := b.Alignment.FilmOf(InJam("j2", 0)); film != sec(170) || b.Jams[1].Confidence != 1 {
		t.Errorf("jam 2 starts at %v, confidence %v; the tag set by hand says 170 s", film, b.Jams[1].Confidence)
	}
	m.mark("hand", "j2", EdgeStart, "a", sec(172))
	b = Derive(m.f)
	if _, film, _ := b.Alignment.FilmOf(InJam("j2", 0)); film != sec(172) {
		t.Errorf("jam 2 starts at %v; the mark set by hand says 172 s", film)
	}
	if !hasProblem(b, ProblemAlignment, "j2") {
		t.Errorf("the jam's tag and the mark are 2 s apart and nothing says so: %+v", b.Problems)
	}
	listened := m.f.Tags["j3"]
	listened.Source, listened.Confidence = "listener", 0.4
	m.f.Tags["j3"] = listened
	delete(m.f.Marks, "m3")
	if c := Derive(m.f).Jams[2].Confidence; c != 0.4 {
		t.Errorf("confidence of a heard jam %v, want 0.4", c)
	}
}

func hasProblem(b Bout, k ProblemKind, jam ID) bool {
	for _, p := range b.Problems {
		if p.Kind == k && p.Jam == jam {
			return true
		}
	}
	return false
}

// Two cameras whose clocks drift by up to 80 ppm, marked with up to 40 ms of
// error: a moment of one is found on the other within 0.15 s all over the bout.
func TestDriftProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		offset := rapid.Float64Range(-300, 300).Draw(t, "offset")
		drift := rapid.Float64Range(-80e-6, 80e-6).Draw(t, "drift")
		m := newBout()
		m.f.Footage["a"] = Footage{Camera: "stand", Duration: 2 * time.Hour}
		m.f.Footage["t"] = Footage{Camera: "turn", Duration: 3 * time.Hour}
		onTurn := func(s float64) float64 { return 400 + offset + s*(1+drift) }
		for k := range 21 {
			at := 60 + float64(k)*90
			id := ID("j" + string(rune('a'+k)))
			m.add(Tag{ID: id, Kind: KindJam, Place: OnFilm("a", sec(at)), JamInfo: &JamInfo{Period: 1, Order: float64(k)}})
			if k%2 == 0 {
				m.mark("m"+id, id, EdgeStart, "t", sec(onTurn(at)+rapid.Float64Range(-0.04, 0.04).Draw(t, "slip")))
			}
		}
		a := Derive(m.f).Alignment
		at := rapid.Float64Range(60, 1860).Draw(t, "at")
		_, film, ok := a.FilmOn("turn", OnFilm("a", sec(at)))
		if !ok || absDuration(film-sec(onTurn(at))) > 150*time.Millisecond {
			t.Fatalf("%.1f s on the stand is %v on the turn, truth %.3f", at, film, onTurn(at))
		}
		_, back, ok := a.FilmOn("stand", OnFilm("t", film))
		if !ok || absDuration(back-sec(at)) > 150*time.Millisecond {
			t.Fatalf("there and back: %.3f became %v", at, back)
		}
	})
}
