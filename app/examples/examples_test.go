package examples

import (
	"errors"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
	"whistlecut/timeline/whistle"
)

const sec = time.Second

// bout is a small hand-made bout: one film, one jam that starts at 10 s of it, a
// penalty (act 20.0, call 21.5), one without an act (call at 40), trips, lead.
func bout(t *testing.T, edition string) *app.Session {
	t.Helper()
	s, err := app.New("Ada").Create(filepath.Join(t.TempDir(), "tonight.bout"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	rules, ok := timeline.Edition(edition)
	if !ok {
		t.Fatal(edition)
	}
	jam := func(at time.Duration) timeline.Place { return timeline.InJam("j", at) }
	who := timeline.Who{Number: "8"}
	changes := []timeline.Change{
		timeline.SetRules(rules),
		timeline.SetFootage(timeline.Footage{ID: "f", Path: "film.mp4", Camera: "stand", Duration: 100 * sec}),
		timeline.SetMark(timeline.SyncMark{ID: "m", Jam: "j", Edge: timeline.EdgeStart, Footage: "f", Film: 10 * sec, Hand: true}),
	}
	for _, x := range []timeline.Tag{
		{ID: "j", Kind: timeline.KindJam, Place: jam(0), JamInfo: &timeline.JamInfo{Period: 1, Order: 1, End: jam(60 * sec), Ended: timeline.EndCalled}},
		{ID: "p1", Kind: timeline.KindPenalty, Place: jam(11500 * time.Millisecond), Side: timeline.Home, Who: who, Penalty: &timeline.PenaltyInfo{Code: "B", Act: jam(10 * sec)}},
		{ID: "p2", Kind: timeline.KindPenalty, Place: timeline.OnFilm("f", 40*sec), Side: timeline.Away, Who: who, Penalty: &timeline.PenaltyInfo{Seen: timeline.NotSeen, Words: "elbow?"}},
		{ID: "p3", Kind: timeline.KindPenalty, Place: timeline.JamAlone("j"), Side: timeline.Away, Who: who, Penalty: &timeline.PenaltyInfo{Code: "X"}},
		{ID: "p4", Kind: timeline.KindPenalty, Place: jam(95 * sec), Side: timeline.Away, Who: who, Penalty: &timeline.PenaltyInfo{Code: "X"}},
		{ID: "lead", Kind: timeline.KindLead, Place: jam(5 * sec), Side: timeline.Home, Who: timeline.Who{Number: "1"}},
		{ID: "t1", Kind: timeline.KindTrip, Place: jam(5 * sec), Side: timeline.Home, Who: timeline.Who{Number: "1"}, Trip: &timeline.TripInfo{Number: 1}},
		{ID: "t2", Kind: timeline.KindTrip, Place: jam(30 * sec), Side: timeline.Home, Who: timeline.Who{Number: "1"}, Trip: &timeline.TripInfo{Number: 2, Points: 4, Start: jam(28 * sec)}},
		{ID: "mark", Kind: timeline.KindMark, Place: timeline.OnFilm("f", 50*sec), Note: "no impact here"},
	} {
		x.Jam = "j"
		changes = append(changes, timeline.SetTag(x))
	}
	if err := s.Apply("a bout", changes...); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestMake(t *testing.T) {
	film := func(seconds float64) timeline.Place {
		return timeline.OnFilm("f", time.Duration(seconds*float64(sec)))
	}
	long := func(at float64, kind whistle.Kind) whistle.Series {
		return whistle.Series{Kind: kind, Start: time.Duration(at * float64(sec))}
	}
	for _, c := range []struct {
		name  string
		make  func(*app.Session) (timeline.Tag, []timeline.Change, error)
		place timeline.Place
		want  timeline.Example // without edition, by, source
		err   bool
	}{
		{
			name:  "penalty with its act",
			make:  func(s *app.Session) (timeline.Tag, []timeline.Change, error) { return OfPenalty(s, "p1", Options{}) },
			place: film(20),
			want: timeline.Example{
				Ask: timeline.AskPenalty, End: film(21.5), Signal: film(21.5),
				Called: timeline.Answer{Choice: timeline.ChoiceYes, Code: "B", Section: "4.1.1"},
			},
		},
		{
			name: "a long whistle before the tag, after a pair for lead",
			make: func(s *app.Session) (timeline.Tag, []timeline.Change, error) {
				return OfPenalty(s, "p1", Options{Heard: map[timeline.ID]whistle.Result{"f": {Series: []whistle.Series{
					long(19, whistle.Long), long(20.5, whistle.Pair), long(21.1, whistle.Long), long(21.3, whistle.Long),
				}}}})
			},
			place: film(20),
			want: timeline.Example{
				Ask: timeline.AskPenalty, End: film(21.5), Signal: film(21.1),
				Called: timeline.Answer{Choice: timeline.ChoiceYes, Code: "B", Section: "4.1.1"},
			},
		},
		{
			name:  "penalty without act and letter, on film",
			make:  func(s *app.Session) (timeline.Tag, []timeline.Change, error) { return OfPenalty(s, "p2", Options{}) },
			place: film(37),
			want: timeline.Example{
				Ask: timeline.AskPenalty, End: film(40), Signal: film(40),
				Called: timeline.Answer{Choice: timeline.ChoiceYes}, Words: "elbow?",
			},
		},
		{
			name: "penalty of a jam alone", err: true,
			make: func(s *app.Session) (timeline.Tag, []timeline.Change, error) { return OfPenalty(s, "p3", Options{}) },
		},
		{
			name: "penalty beyond the film", err: true,
			make: func(s *app.Session) (timeline.Tag, []timeline.Change, error) { return OfPenalty(s, "p4", Options{}) },
		},
		{
			name: "no penalty", err: true,
			make: func(s *app.Session) (timeline.Tag, []timeline.Change, error) { return OfPenalty(s, "mark", Options{}) },
		},
		{
			name:  "trip",
			make:  func(s *app.Session) (timeline.Tag, []timeline.Change, error) { return OfTrip(s, "t2", Options{}) },
			place: film(38),
			want:  timeline.Example{Ask: timeline.AskPass, End: film(40), Signal: film(40), Called: timeline.Answer{Choice: timeline.ChoiceYes}},
		},
		{
			name:  "jam with lead",
			make:  func(s *app.Session) (timeline.Tag, []timeline.Change, error) { return OfJam(s, "j", Options{}) },
			place: film(11),
			want:  timeline.Example{Ask: timeline.AskLead, End: film(15), Signal: film(15), Called: timeline.Answer{Choice: timeline.ChoiceYes}},
		},
		{
			name:  "mark",
			make:  func(s *app.Session) (timeline.Tag, []timeline.Change, error) { return OfMark(s, "mark", Options{}) },
			place: film(50),
			want:  timeline.Example{Ask: timeline.AskPenalty, Called: timeline.Answer{Choice: timeline.ChoiceNo}, Words: "no impact here"},
		},
		{
			name: "place",
			make: func(s *app.Session) (timeline.Tag, []timeline.Change, error) {
				return OfPlace(s, "f", 60*sec, 62*sec, Options{})
			},
			place: film(60),
			want:  timeline.Example{Ask: timeline.AskPenalty, End: film(62), Called: timeline.Answer{Choice: timeline.ChoiceNo}},
		},
		{
			name: "place beyond the film", err: true,
			make: func(s *app.Session) (timeline.Tag, []timeline.Change, error) {
				return OfPlace(s, "f", 60*sec, 162*sec, Options{})
			},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := bout(t, "2025")
			got, changes, err := c.make(s)
			if c.err {
				if err == nil || len(changes) > 0 {
					t.Fatalf("no error, but %+v", got)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Apply("example", changes...); err != nil {
				t.Fatal(err)
			}
			x := *s.Facts.Tags[got.ID].Example
			if x.Edition != "2025" || x.By != "Ada" {
				t.Errorf("edition %q by %q", x.Edition, x.By)
			}
			source := x.Source
			x.Edition, x.By, x.Source = "", "", ""
			if got.Place != c.place || !equal(x, c.want) {
				t.Errorf("got %+v at %+v, want %+v at %+v", x, got.Place, c.want, c.place)
			}
			if source == "" {
				return
			}
			if _, again, err := c.make(s); !errors.Is(err, ErrMade) || len(again) > 0 {
				t.Errorf("made twice: %v", err)
			}
		})
	}
}

func equal(a, b timeline.Example) bool {
	return a.Ask == b.Ask && a.End == b.End && a.Signal == b.Signal && a.Called == b.Called && a.Words == b.Words &&
		slices.Equal(a.Verdicts, b.Verdicts)
}

func TestOfMoment(t *testing.T) {
	s := bout(t, "2025")
	want := map[timeline.Kind]timeline.Question{
		timeline.KindPenalty: timeline.AskPenalty, timeline.KindTrip: timeline.AskPass, timeline.KindJam: timeline.AskLead,
		timeline.KindMark: timeline.AskPenalty, timeline.KindLead: timeline.AskLead,
	}
	for kind, ask := range want {
		found := timeline.Find(s.Bout, s.Facts, timeline.Selection{Kinds: []timeline.Kind{kind}, OnFilm: true})
		if len(found) == 0 {
			t.Fatalf("no %s", kind)
		}
		got, _, err := OfMoment(s, found[len(found)-1], Options{})
		if err != nil || got.Example.Ask != ask {
			t.Errorf("%s: asks %q, %v", kind, got.Example.Ask, err)
		}
	}
	short := timeline.Moment{Situation: timeline.SitPowerJam, Film: []timeline.FilmStretch{{Footage: "f", From: 3 * sec, To: 5 * sec}}}
	got, _, err := OfMoment(s, short, Options{})
	if err != nil || got.Example.Called.Choice != timeline.ChoiceNo || !got.Example.Signal.IsZero() {
		t.Errorf("a moment nobody called: %+v, %v", got.Example, err)
	}
	if _, _, err := OfMoment(s, timeline.Moment{Situation: timeline.SitPowerJam}, Options{}); err == nil {
		t.Error("a moment without film became an example")
	}
}

func TestBlindTellsNothing(t *testing.T) {
	s := bout(t, "2025")
	tag, _, err := OfPenalty(s, "p1", Options{})
	if err != nil {
		t.Fatal(err)
	}
	tag.Example.Verdicts = []timeline.Answer{tag.Example.Called}
	tag.Example.Words, tag.Example.Difficulty, tag.Example.Impact = "clear", 3, timeline.ImpactSome
	b := Blind(tag)
	want := timeline.Tag{ID: tag.ID, Kind: tag.Kind, Place: tag.Place, Example: &timeline.Example{
		Ask: timeline.AskPenalty, End: tag.Example.End, Signal: tag.Example.Signal, Edition: "2025",
	}}
	if !equal(*b.Example, *want.Example) || b.Who != want.Who || b.Side != want.Side || b.Jam != "" || b.Example.Source != "" ||
		b.Example.Difficulty != 0 || b.Example.Impact != "" || b.Example.By != "" {
		t.Errorf("blind, it is %+v %+v", b, b.Example)
	}
	if len(tag.Example.Verdicts) != 1 {
		t.Error("the example itself lost its verdicts")
	}
}

func TestOpine(t *testing.T) {
	s := bout(t, "2025")
	tag, changes, err := OfPenalty(s, "p1", Options{})
	if err != nil {
		t.Fatal(err)
	}
	tag.Example.Verdicts = []timeline.Answer{{Choice: timeline.ChoiceYes, Code: "B"}}
	if err := s.Apply("example", append(changes, timeline.SetTag(tag))...); err != nil {
		t.Fatal(err)
	}
	yes := timeline.Answer{Choice: timeline.ChoiceYes, Code: "C"}
	for _, c := range []struct {
		name string
		id   timeline.ID
		by   string
		a    timeline.Answer
	}{
		{"no example", "p1", "Bea", yes},
		{"nobody", tag.ID, " ", yes},
		{"the first trainer", tag.ID, "Ada", yes},
		{"no answer", tag.ID, "Bea", timeline.Answer{}},
		{"a letter of another edition", tag.ID, "Bea", timeline.Answer{Choice: timeline.ChoiceYes, Code: "Z"}},
		{"a letter for no penalty", tag.ID, "Bea", timeline.Answer{Choice: timeline.ChoiceNo, Code: "B"}},
	} {
		if _, _, err := Opine(s, c.id, c.by, c.a, ""); err == nil {
			t.Errorf("%s: taken", c.name)
		}
	}
	for _, a := range []timeline.Answer{yes, {Choice: timeline.ChoiceNo}} {
		o, change, err := Opine(s, tag.ID, "Bea", a, "seen from the inside")
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Apply("opinion", change); err != nil {
			t.Fatal(err)
		}
		if got := OpinionsOn(s.Facts, tag.ID); len(got) != 1 || got[0] != o || o.Edition != "2025" {
			t.Errorf("opinions %+v", got)
		}
	}
	l := List(s)
	if len(l) != 1 || l[0].Period != 1 || l[0].Jam != 1 || len(l[0].Opinions) != 1 || l[0].Changed != nil {
		t.Errorf("listed %+v", l)
	}
	if err := s.Apply("deleted", Delete(s.Facts, tag.ID)...); err != nil {
		t.Fatal(err)
	}
	if len(List(s)) != 0 || len(s.Facts.Opinions) != 0 {
		t.Error("something is left of it")
	}
}

func TestChanges(t *testing.T) {
	now, _ := timeline.Edition("2025")
	code := func(letter string) []timeline.Answer {
		return []timeline.Answer{{Choice: timeline.ChoiceYes, Code: letter}}
	}
	for _, c := range []struct {
		name string
		x    timeline.Example
		want []Change
	}{
		{"the same edition", timeline.Example{Ask: timeline.AskPenalty, Edition: "2025", Verdicts: code("C")}, nil},
		{"nothing known", timeline.Example{Ask: timeline.AskPenalty, Edition: "2019", Verdicts: code("B")}, []Change{{Kind: ChangeEdition, Then: "2019", Now: "2025"}}},
		{"an unknown edition", timeline.Example{Ask: timeline.AskPenalty, Edition: "1999"}, []Change{{Kind: ChangeUnknown, Then: "1999", Now: "2025"}}},
		{"another meaning", timeline.Example{Ask: timeline.AskPenalty, Edition: "2015", Verdicts: code("C"), Called: code("C")[0]}, []Change{
			{Kind: ChangeLetter, Code: "C", Then: "direction of game play", Now: "illegal contact"},
			{Kind: ChangeGone, Code: "C", Then: "direction of game play"},
		}},
		{"another section", timeline.Example{Ask: timeline.AskPenalty, Edition: "2014", Verdicts: code("B")}, []Change{{Kind: ChangeSection, Code: "B", Then: "5.1", Now: "4.1.1"}}},
		{"no such letter", timeline.Example{Ask: timeline.AskPenalty, Edition: "2015", Verdicts: code("Z")}, []Change{
			{Kind: ChangeLetter, Code: "Z", Then: "delay of game"}, {Kind: ChangeGone, Code: "Z", Then: "delay of game"},
		}},
		{"points", timeline.Example{Ask: timeline.AskPass, Edition: "2017"}, []Change{
			{Kind: ChangePoints, Then: "5", Now: "4"}, {Kind: ChangeLap, Then: "it scores", Now: "it does not score"},
		}},
		{"lead", timeline.Example{Ask: timeline.AskLead, Edition: "2015"}, []Change{{Kind: ChangeLead, Then: "lost", Now: "kept"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Changes(c.x, now); !slices.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
			for _, x := range c.want {
				if x.String() == "" {
					t.Error("no sentence")
				}
			}
		})
	}
}

// TestStaged: the examples of staged bouts agree with the simulator's own book.
func TestStaged(t *testing.T) {
	for seed := range uint64(6) {
		game := simulate.Play(seed, simulate.Options{Jams: 3})
		s, err := app.New("stage").Create(filepath.Join(t.TempDir(), "demo.bout"))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		changes := append(timeline.FactsChanges(game.Facts()), timeline.SetFootage(timeline.Footage{ID: "f", Path: "f.mp4", Camera: "c", Duration: game.Duration()}))
		for _, j := range game.Truth.Jams {
			changes = append(changes, timeline.SetMark(timeline.SyncMark{ID: "m-" + j.ID, Jam: j.ID, Edge: timeline.EdgeStart, Footage: "f", Film: j.Start, Hand: true}))
		}
		if err := s.Apply("staged", changes...); err != nil {
			t.Fatal(err)
		}
		if err := s.Apply("examples", Staged(s)...); err != nil {
			t.Fatal(err)
		}
		list := List(s)
		if len(list) < 6 || len(list) > stagedMost {
			t.Errorf("seed %d: %d examples", seed, len(list))
		}
		verdicts := map[timeline.Choice]int{}
		for _, x := range list {
			e := x.Tag.Example
			verdicts[e.Verdicts[0].Choice]++
			if e.Ask != timeline.AskPenalty {
				continue
			}
			var near []string
			for _, p := range game.Truth.Penalties {
				for _, j := range game.Truth.Jams {
					if j.ID == p.Jam && (j.Start+p.Act-x.Tag.Place.Film).Abs() < 10*time.Millisecond {
						near = append(near, p.Code)
					}
				}
			}
			for _, v := range e.Verdicts {
				yes := v.Choice == timeline.ChoiceYes
				if v.Choice != timeline.ChoiceWarning && yes != (len(near) > 0) || yes && !slices.Contains(near, v.Code) {
					t.Errorf("seed %d: verdict %+v, and the book says %q", seed, v, near)
				}
			}
		}
		if verdicts[timeline.ChoiceYes] == 0 || verdicts[timeline.ChoiceNo] == 0 {
			t.Errorf("seed %d: verdicts %v", seed, verdicts)
		}
		t.Logf("seed %d: %d examples, %v, of %d penalties", seed, len(list), verdicts, len(game.Truth.Penalties))
	}
}
