package app

import (
	"path/filepath"
	"testing"
	"time"

	"whistlecut/timeline"
)

// fourJams is a bout with two films and four jams that were placed by ear.
func fourJams(t *testing.T) *Session {
	t.Helper()
	s, err := New("tester").Create(filepath.Join(t.TempDir(), "four"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	var changes []timeline.Change
	for i, f := range []timeline.ID{"one", "two"} {
		changes = append(changes, timeline.SetFootage(timeline.Footage{ID: f, Path: string(f), Camera: "hall", Order: float64(i), Duration: time.Hour}))
	}
	for i, id := range []timeline.ID{"a", "b", "c", "d"} {
		changes = append(changes, timeline.SetTag(timeline.Tag{
			ID: id, Kind: timeline.KindJam, Place: timeline.JamAlone(id), Source: "sheet",
			JamInfo: &timeline.JamInfo{Period: 1, Order: float64(i + 1)},
		}))
	}
	for _, m := range []timeline.SyncMark{
		{ID: "ma", Jam: "a", Footage: "one", Film: 10 * time.Second, Confidence: 0.95},
		{ID: "mb", Jam: "b", Footage: "one", Film: 100 * time.Second, Confidence: 0.6},
		{ID: "mc", Jam: "c", Footage: "two", Film: 20 * time.Second, Confidence: 0.3},
	} {
		m.Edge = timeline.EdgeStart
		changes = append(changes, timeline.SetMark(m))
	}
	if err := s.Apply("four jams", changes...); err != nil {
		t.Fatal(err)
	}
	return s
}

func queue(s *Session) string {
	out := ""
	for _, j := range s.DoubtfulJams() {
		out += string(j.Jam)
	}
	return out
}

func TestDoubtfulJams(t *testing.T) {
	s := fourJams(t)
	if got := queue(s); got != "cbd" {
		t.Fatalf("queue %q, want the least sure first and the one not found last: cbd", got)
	}
	apply := func(c []timeline.Change) {
		t.Helper()
		if err := s.Apply("test", c...); err != nil {
			t.Fatal(err)
		}
	}
	apply(s.StartByHand("c", "two", 21*time.Second))
	apply(s.StartByHand("c", "one", 300*time.Second))
	hands := 0
	for _, m := range s.Facts.Marks {
		if m.Hand && m.Jam == "c" {
			hands++
		}
	}
	if j := s.JamStarts()[2]; hands != 1 || !j.Hand || j.Footage != "one" || j.Film != 300*time.Second || queue(s) != "bd" {
		t.Errorf("set by hand: %+v, %d hand marks, queue %q", j, hands, queue(s))
	}

	b := s.DoubtfulJams()[0]
	apply(s.NotThere(b))
	if queue(s) != "d" {
		t.Errorf("a refused jam still waits: %q", queue(s))
	}
	if !s.refused("b", "one", b.Film+time.Second) || s.refused("b", "one", b.Film+2*time.Second) || s.refused("b", "two", b.Film) {
		t.Error("the place refused is not the one that was")
	}
	// Heard anew somewhere else, it waits again; set by hand, the word goes.
	apply([]timeline.Change{timeline.SetMark(timeline.SyncMark{ID: "mb2", Jam: "b", Edge: timeline.EdgeStart, Footage: "one", Film: 150 * time.Second, Confidence: 0.5})})
	if queue(s) != "bd" {
		t.Errorf("heard elsewhere: queue %q", queue(s))
	}
	apply(s.StartByHand("b", "one", b.Film))
	if s.refused("b", "one", b.Film) || queue(s) != "d" {
		t.Error("set by hand, it is still refused")
	}
	apply(s.NotThere(s.DoubtfulJams()[0]))
	if queue(s) != "" {
		t.Errorf("a jam said not to be on film waits: %q", queue(s))
	}
}

func TestNoFilmNoDoubt(t *testing.T) {
	s := fourJams(t)
	for id := range s.Facts.Marks {
		if err := s.Apply("gone", timeline.DeleteMark(id)); err != nil {
			t.Fatal(err)
		}
	}
	if q := queue(s); q != "" {
		t.Errorf("a bout never lined up has doubtful jams: %q", q)
	}
}

func TestTakeSheet(t *testing.T) {
	a := New("tester")
	s, err := a.Create(filepath.Join(t.TempDir(), "sheet"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	read := func(text string) SheetReading {
		t.Helper()
		r, err := a.ReadSheetData("score.csv", []byte(text), nil)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	head := "Whistlecut sheet,1\n[Teams]\nTeam,Name\nhome,Harbour Lanterns\n[Score]\nPeriod,Jam,Team,Jammer,Jam total,Game total\n"
	if n, err := s.TakeSheet(read(head + "1,1,home,73,4,4\n1,2,home,19,0,4\n1,3,home,73,3,7\n")); n != 3 || err != nil {
		t.Fatalf("%d jams made, %v", n, err)
	}
	if s.Facts.Teams[0].Name != "Harbour Lanterns" {
		t.Errorf("home is %q", s.Facts.Teams[0].Name)
	}
	// Jam 2 is worked on, jam 3 is not: read anew without both, 3 goes.
	if err := s.Apply("lead", timeline.SetTag(timeline.Tag{ID: "l", Kind: timeline.KindLead, Side: timeline.Home, Place: timeline.JamAlone(sheetJamID(1, 2))})); err != nil {
		t.Fatal(err)
	}
	if _, err := s.TakeSheet(read(head + "1,1,home,73,4,4\n")); err != nil {
		t.Fatal(err)
	}
	if len(s.Bout.Jams) != 2 {
		t.Errorf("%d jams, want 1 and 2", len(s.Bout.Jams))
	}
	if _, err := s.File.Undo(); err != nil {
		t.Fatal(err)
	}
	if s.Refresh(); len(s.Bout.Jams) != 3 {
		t.Errorf("undo left %d jams", len(s.Bout.Jams))
	}
}
