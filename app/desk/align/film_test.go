package align

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline"
)

// threeFiles gives the bout three more files of one camera, the second of which
// is there.
func threeFiles(t *testing.T, d *tasktest.Desk) {
	t.Helper()
	there := filepath.Join(t.TempDir(), "b.mp4")
	if err := os.WriteFile(there, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	var c []timeline.Change
	for i, path := range []string{"/gone/a.mp4", there, "/gone/c.mp4"} {
		c = append(c, timeline.SetFootage(timeline.Footage{
			ID: timeline.ID("f" + filepath.Base(path)), Path: path, Camera: "turn two", Order: float64(i + 1),
			Joined: i > 0, Duration: time.Duration(i+1) * 10 * time.Minute,
		}))
	}
	if !d.Apply("films", c...) {
		t.Fatal(d.Failed)
	}
}

func order(x *Task) string {
	out := ""
	for _, r := range x.film.rows {
		if r.isFile() && r.camera == "turn two" {
			out += string(r.file.ID[1:2])
		}
	}
	return out
}

func TestFilmOrder(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3})
	threeFiles(t, d)
	x.show(atFilm)
	x.film.mark("fb.mp4")
	d.Picture(t, "film")
	press(t, d, "Shift+Up")
	if got := order(x); got != "bac" {
		t.Fatalf("order %s, want bac", got)
	}
	for id, joined := range map[timeline.ID]bool{"fb.mp4": false, "fa.mp4": false, "fc.mp4": false} {
		if f := d.Opened.Facts.Footage[id]; f.Joined != joined {
			t.Errorf("%s is joined to the file before, which is another now", id)
		}
	}
	press(t, d, "Shift+Down")
	press(t, d, "Shift+Down")
	press(t, d, "Shift+Down") // the last stays the last
	if got := order(x); got != "acb" {
		t.Errorf("order %s, want acb", got)
	}
	if r, _ := x.film.chosen(); r.file.ID != "fb.mp4" {
		t.Errorf("%s is chosen after moving", r.file.ID)
	}
	if _, err := d.Opened.File.Undo(); err != nil {
		t.Fatal(err)
	}
	if d.Changed(); order(x) != "abc" {
		t.Errorf("undone once: %s, want abc", order(x))
	}
}

func TestFilmSoundAndRange(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3})
	x.show(atFilm)
	press(t, d, ".")
	press(t, d, "Shift+.")
	press(t, d, ",")
	if f := d.Opened.Facts.Footage[tasktest.FilmID]; f.SoundOffset != 100*time.Millisecond {
		t.Errorf("sound offset %v", f.SoundOffset)
	}
	d.At(20 * time.Second)
	press(t, d, "I")
	d.At(200 * time.Second)
	press(t, d, "O")
	if r := d.Opened.Facts.Footage[tasktest.FilmID].Range; r != (timeline.TimeRange{Start: 20 * time.Second, End: 200 * time.Second}) {
		t.Errorf("range %v", r)
	}
	said := len(d.Said)
	d.At(10 * time.Second)
	press(t, d, "O")
	if r := d.Opened.Facts.Footage[tasktest.FilmID].Range; r.End != 200*time.Second || len(d.Said) == said {
		t.Errorf("an end before the beginning: %v, said %v", r, d.Said)
	}
	d.At(0)
	press(t, d, "I")
	d.At(d.Game.Duration())
	press(t, d, "O")
	if r := d.Opened.Facts.Footage[tasktest.FilmID].Range; r != (timeline.TimeRange{}) {
		t.Errorf("all of the file is no range: %v", r)
	}
}

func TestFilmRemove(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3})
	x.show(atFilm)
	tags := len(d.Opened.Facts.Tags)
	press(t, d, "Delete")
	if len(d.Opened.Facts.Footage) != 0 || len(d.Opened.Facts.Marks) != 0 || len(d.Opened.Facts.Tags) != tags {
		t.Errorf("%d files, %d marks, %d of %d tags", len(d.Opened.Facts.Footage), len(d.Opened.Facts.Marks), len(d.Opened.Facts.Tags), tags)
	}
	if len(d.Opened.Bout.Problems) > 0 && d.Opened.Bout.Problems[0].Kind == timeline.ProblemDangling {
		t.Error(d.Opened.Bout.Problems[0].Text)
	}
	if _, err := d.Opened.File.Undo(); err != nil {
		t.Fatal(err)
	}
	if d.Changed(); len(d.Opened.Facts.Footage) != 1 || len(d.Opened.Facts.Marks) == 0 {
		t.Error("undo brings film and marks back")
	}
}

func TestDrop(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3, NoTags: true})
	dir := t.TempDir()
	write := func(name, text string) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return p
	}
	x.Drop([]string{write("notes.docx.bak", "nothing")})
	if len(d.Said) != 1 {
		t.Errorf("said %v", d.Said)
	}
	x.Drop([]string{write("score.csv", ownSheet)})
	if d.Opened.Facts.Sheet == nil || x.fold.at != atSheet || len(d.Opened.Bout.Jams) != 2 {
		t.Fatalf("sheet %v, section %d, %d jams, %v", d.Opened.Facts.Sheet != nil, x.fold.at, len(d.Opened.Bout.Jams), d.Failed)
	}
	x.Drop([]string{write("x.mp4", "no film at all")})
	if top := d.Win.Canvas().Overlays().Top(); top == nil || x.fold.at != atFilm {
		t.Error("a further film asks for its camera")
	}
	d.Picture(t, "film-add")
}

const ownSheet = "Whistlecut sheet,1\n[Score]\nPeriod,Jam,Team,Jammer,Lead,Trip 2,Jam total,Game total\n1,1,home,73,x,4,4,4\n1,2,home,19,,,0,4\n"
