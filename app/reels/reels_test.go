package reels

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/app"
	"whistlecut/export/clip"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

const sec = time.Second

// bout is a bout of one film of eight seconds with three marks, two skaters and
// no sheet.
func bout(t *testing.T) (*app.App, *app.Session) {
	t.Helper()
	dir := t.TempDir()
	film := filepath.Join(dir, "phone ü.mp4")
	err := ffmpeg.Default().Run(context.Background(), ffmpeg.Job{Args: []string{
		"-f", "lavfi", "-i", "testsrc2=rate=25:size=640x360", "-f", "lavfi", "-i", "sine=frequency=700", "-t", "8",
		"-c:v", "libx264", "-preset", "ultrafast", "-g", "25", "-pix_fmt", "yuv420p", "-c:a", "aac", "-y", film,
	}})
	if err != nil {
		t.Fatal(err)
	}
	a := app.New("Ada")
	s, err := a.Create(filepath.Join(dir, "tonight.bout"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	rules := timeline.Editions()
	changes := []timeline.Change{
		timeline.SetRules(rules[len(rules)-1]), timeline.SetInfo(timeline.Info{Title: "Tonight"}),
		timeline.SetTeam(timeline.Home, timeline.Team{Name: "Home Team", Roster: []timeline.Skater{
			{Number: "052", Name: "Ada Lovebrace"}, {Number: "7", Name: "Young One", Minor: true}, {Number: "8", Name: "No Thanks", NoConsent: true},
		}}),
		timeline.SetTeam(timeline.Away, timeline.Team{Name: "Away Team"}),
		timeline.SetFootage(timeline.Footage{ID: "f", Path: film, Camera: "phone", Duration: 8 * sec}),
	}
	for i, id := range []timeline.ID{"m1", "m2", "m3"} {
		changes = append(changes, timeline.SetTag(timeline.Tag{
			ID: id, Kind: timeline.KindMark, Place: timeline.OnFilm("f", time.Duration(2*i+1)*sec), Note: string(id),
		}))
	}
	if err := s.Apply("a bout", changes...); err != nil {
		t.Fatal(err)
	}
	return a, s
}

func margins(before, after time.Duration) clip.Margins {
	return clip.Margins{Default: clip.Margin{Before: before, After: after}}
}

func begin(t *testing.T, s *app.Session, languages ...string) timeline.Reel {
	t.Helper()
	r, change := New(s, "Film night", languages...)
	got := Collect(s, r, FromMarks(s), CollectOptions{Margins: margins(sec, sec), Captions: true, Cards: true})
	if len(got.NotShot) != 0 {
		t.Fatalf("%d marks are not on film", len(got.NotShot))
	}
	if err := s.Apply("reel", append(got.Changes, change)...); err != nil {
		t.Fatal(err)
	}
	return r
}

func TestCollectMarks(t *testing.T) {
	_, s := bout(t)
	r := begin(t, s, "en", "es")
	parts := s.Facts.ReelParts(r.ID)
	if len(parts) != 4 || parts[0].Card == nil || parts[0].Card.Title.In("en") != "Film night" || parts[0].Caption.In("es") != "Tonight" {
		t.Fatalf("want a title and three clips, got %+v", parts)
	}
	for i, p := range parts[1:] {
		at := time.Duration(2*i+1) * sec
		if p.Clip == nil || p.Clip.Shown() != (timeline.TimeRange{Start: at - sec, End: at + sec}) || p.Caption.In("en") == "" {
			t.Errorf("clip %d: %+v", i, p.Clip)
		}
		if err := timeline.CheckPart(p); err != nil {
			t.Error(err)
		}
	}
	if got := Length(parts); got != CardLength+6*sec {
		t.Errorf("the reel is %s long", got)
	}
	if _, err := ByName(s, "FILM night"); err != nil {
		t.Error(err)
	}
	if _, err := ByName(s, "Other"); err == nil || !strings.Contains(err.Error(), `"Film night"`) {
		t.Errorf("an unknown reel: %v", err)
	}
}

// TestMarkWithoutWords: nothing is written over the film where nobody said anything.
func TestMarkWithoutWords(t *testing.T) {
	_, s := bout(t)
	m := s.Facts.Tags["m2"]
	m.Note = ""
	if err := s.Apply("no words", timeline.SetTag(m)); err != nil {
		t.Fatal(err)
	}
	r := begin(t, s)
	for _, p := range s.Facts.ReelParts(r.ID) {
		if p.Clip != nil && (p.Caption.In("en") == "") != (p.Clip.Tags[0] == "m2") {
			t.Errorf("%s is captioned %q", p.Clip.Tags[0], p.Caption)
		}
	}
}

func TestMove(t *testing.T) {
	_, s := bout(t)
	r := begin(t, s)
	order := func() (out string) {
		for _, p := range s.Facts.ReelParts(r.ID) {
			if p.Clip != nil {
				out += string(p.Clip.Tags[0]) + " "
			} else {
				out += "title "
			}
		}
		return strings.TrimSpace(out)
	}
	id := map[string]timeline.ID{"": ""}
	for _, p := range s.Facts.ReelParts(r.ID) {
		if p.Clip != nil {
			id[string(p.Clip.Tags[0])] = p.ID
		} else {
			id["title"] = p.ID
		}
	}
	for _, c := range []struct{ part, before, want string }{
		{"m3", "m1", "title m3 m1 m2"},
		{"title", "", "m3 m1 m2 title"},
		{"m2", "m3", "m2 m3 m1 title"},
		{"m1", "m1", "m2 m3 m1 title"}, // before itself: nothing
		{"m1", "", "m2 m3 title m1"},
	} {
		if err := s.Apply("moved", Move(s.Facts, id[c.part], id[c.before])...); err != nil {
			t.Fatal(err)
		}
		if got := order(); got != c.want {
			t.Errorf("%s before %q: %s, want %s", c.part, c.before, got, c.want)
		}
	}
	// Between two neighbours again and again, until no number is left between them.
	for range 120 {
		list := s.Facts.ReelParts(r.ID)
		if err := s.Apply("moved", Move(s.Facts, list[3].ID, list[1].ID)...); err != nil {
			t.Fatal(err)
		}
		if now := s.Facts.ReelParts(r.ID); now[1].ID != list[3].ID || now[2].ID != list[1].ID {
			t.Fatal("the order was lost")
		}
	}
	if err := s.Apply("deleted", Delete(s.Facts, r.ID)...); err != nil {
		t.Fatal(err)
	}
	if len(s.Facts.Reels)+len(s.Facts.Parts) != 0 {
		t.Error("parts of a deleted reel stay")
	}
}

func TestGiveAndTake(t *testing.T) {
	_, s := bout(t)
	r := begin(t, s, "en")
	hide := timeline.Tag{ID: "d", Kind: timeline.KindDrawing, Place: timeline.OnFilm("f", sec), Drawing: &timeline.Drawing{
		Shape: timeline.ShapeHide, Points: []timeline.Point{{X: 0, Y: 0}, {X: 0.5, Y: 0.5}}, End: timeline.OnFilm("f", 2*sec),
	}}
	if err := s.Apply("drawing", timeline.SetTag(hide)); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := Export(s.Facts, r.ID).Write(&b); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `"hide"`) {
		t.Error("the drawing does not come with the reel")
	}
	text := strings.ReplaceAll(b.String(), `"footage": "f"`, `"footage": "phone ü.mp4"`)
	got, changes, err := Import(s, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	before := s.Facts.ReelParts(r.ID)
	if err := s.Apply("taken", changes...); err != nil {
		t.Fatal(err)
	}
	if got.ID != r.ID || len(s.Facts.ReelParts(r.ID)) != len(before) || s.Facts.ReelParts(r.ID)[1].Clip.Footage != "f" {
		t.Error("the reel is another one after giving and taking")
	}
	for _, c := range []struct{ name, text, want string }{
		{"no JSON", "hello", "cannot read the reel"},
		{"no name", `{"reel":{}}`, "no name"},
		{"unknown film", `{"reel":{"name":"x"},"parts":[{"clip":{"footage":"gone.mp4","range":{"start":0,"end":1}}}]}`, `parts[0]: "gone.mp4" is not footage`},
		{"a wrong speed", `{"reel":{"name":"x"},"parts":[{"clip":{"footage":"f","range":{"start":0,"end":1},"speeds":[{"range":{"start":0,"end":1},"rate":9}]}}]}`, "rate: 9"},
		{"a word nobody knows", `{"reel":{"name":"x","colour":1}}`, "colour"},
	} {
		if _, changes, err := Import(s, []byte(c.text)); err == nil || !strings.Contains(err.Error(), c.want) || changes != nil {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

func TestMake(t *testing.T) {
	a, s := bout(t)
	r := begin(t, s, "en", "es")
	r.Bar, r.Burned = true, true
	parts := s.Facts.ReelParts(r.ID)
	c := *parts[1].Clip
	c.Speeds = []timeline.Speed{{Range: timeline.TimeRange{Start: 0, End: sec}, Rate: 0.5}}
	c.Freezes = []timeline.Freeze{{At: 1500 * time.Millisecond, Length: sec}}
	parts[1].Clip = &c
	hide := timeline.Tag{ID: "d", Kind: timeline.KindDrawing, Place: timeline.OnFilm("f", 0), Drawing: &timeline.Drawing{
		Shape: timeline.ShapeHide, Points: []timeline.Point{{X: 0, Y: 0}, {X: 0.5, Y: 0.5}}, End: timeline.OnFilm("f", 8*sec),
	}}
	if err := s.Apply("worded", timeline.SetReel(r), timeline.SetPart(parts[1]), timeline.SetTag(hide)); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	made, err := Make(context.Background(), a, s, r.ID, MakeOptions{Dir: dir, Subtitles: true, Sheet: true})
	if err != nil {
		t.Fatal(err)
	}
	// 3 s of title; 2 s, of which one at half speed, and a second held: 4 s; 2 s; 2 s.
	if want := 11 * sec; made.Length != want || made.Frames != 11*25 {
		t.Errorf("%s and %d frames, want %s", made.Length, made.Frames, want)
	}
	if len(made.Subtitles) != 4 {
		t.Errorf("subtitles: %v", made.Subtitles)
	}
	text, err := os.ReadFile(filepath.Join(dir, "Film night.en.vtt"))
	if err != nil || !strings.Contains(string(text), "00:00:03.000 --> 00:00:07.000") {
		t.Errorf("captions: %v\n%s", err, text)
	}
	f, err := footage.Open(context.Background(), a.Runner, made.Out)
	if err != nil {
		t.Fatal(err)
	}
	if n := f.Index.Len(); n != 11*25 {
		t.Errorf("the film has %d frames", n)
	}
	// The hidden quarter holds nothing of the film: two pictures 2 s apart are alike there.
	one, two := picture(t, f, 4*25), picture(t, f, 8*25)
	if d := difference(one, two, 64, 32, 256, 128); d > 2 {
		t.Errorf("under what is hidden pictures differ by %.1f", d)
	}
	if d := difference(one, two, 384, 32, 600, 128); d < 2 {
		t.Errorf("beside it the film stands still, %.1f", d)
	}
	list, err := os.ReadDir(dir)
	if err != nil || len(list) != 6 {
		t.Errorf("left in the folder: %v %v", list, err)
	}
	// What is missing is said, and nothing is made.
	if _, err := Make(context.Background(), a, s, "nobody", MakeOptions{Dir: dir}); err == nil {
		t.Error("an unknown reel was made")
	}
	if err := s.Apply("moved", timeline.SetFootage(timeline.Footage{ID: "f", Path: "gone.mp4", Camera: "phone"})); err != nil {
		t.Fatal(err)
	}
	if _, err := Make(context.Background(), a, s, r.ID, MakeOptions{Out: filepath.Join(dir, "again.mp4")}); err == nil || !strings.Contains(err.Error(), "gone.mp4") {
		t.Errorf("a missing film: %v", err)
	}
}

func picture(t *testing.T, f *footage.File, frame int) []byte {
	t.Helper()
	p := footage.Picture{Width: 640, Height: 360, Format: footage.RGBA}
	r, err := f.Frames(context.Background(), frame, frame+1, p)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	out := make([]byte, p.Bytes())
	if _, err := r.Next(out); err != nil {
		t.Fatal(err)
	}
	return out
}

// difference is the mean difference of two pictures in a box.
func difference(a, b []byte, x0, y0, x1, y1 int) float64 {
	sum, n := 0, 0
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			for c := range 3 {
				i := (y*640+x)*4 + c
				d := int(a[i]) - int(b[i])
				sum, n = sum+max(d, -d), n+1
			}
		}
	}
	return float64(sum) / float64(n)
}

func TestPack(t *testing.T) {
	a, s := bout(t)
	jam := timeline.Tag{ID: "j", Kind: timeline.KindJam, Place: timeline.OnFilm("f", sec), JamInfo: &timeline.JamInfo{Period: 1, Order: 1, End: timeline.OnFilm("f", 7*sec)}}
	lineup := timeline.Tag{ID: "l", Kind: timeline.KindLineup, Place: timeline.JamAlone("j"), Jam: "j", Side: timeline.Home, Lineup: &timeline.LineupInfo{
		Jammer: timeline.Who{Number: "052"}, Pivot: timeline.Who{Number: "7"},
	}}
	penalty := timeline.Tag{ID: "p", Kind: timeline.KindPenalty, Place: timeline.OnFilm("f", 3*sec), Jam: "j", Side: timeline.Home, Who: timeline.Who{Number: "052"}, Penalty: &timeline.PenaltyInfo{Code: "B"}}
	of7 := penalty
	of7.ID, of7.Who = "p7", timeline.Who{Number: "7"}
	if err := s.Apply("a jam", timeline.SetTag(jam), timeline.SetTag(lineup), timeline.SetTag(penalty), timeline.SetTag(of7)); err != nil {
		t.Fatal(err)
	}
	who := timeline.SkaterRef{Side: timeline.Home, Number: "052"}
	dir := PackDir(t.TempDir(), who)
	o := PackOptions{Dir: dir, Language: "es", Margins: margins(sec, sec), Numbers: true}
	made, err := Pack(context.Background(), a, s, who, o)
	if err != nil {
		t.Fatal(err)
	}
	if len(made.Clips) != 2 || len(made.Moments) != 2 {
		t.Errorf("want her jam and her penalty, got %v", made.Clips)
	}
	page, err := os.ReadFile(made.Page)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"052 Ada Lovebrace", "Falta B", `lang="es"`, "numbers.pdf"} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if len(made.Reminders) != 2 || !strings.Contains(made.Reminders[1], "7 Young One") {
		t.Errorf("nobody is reminded of the minor in the clip: %q", made.Reminders)
	}
	for number, want := range map[timeline.Number]string{"7": "minor", "8": "not agreed", "99": "nothing of home 99"} {
		o.Dir = filepath.Join(t.TempDir(), "pack")
		_, err := Pack(context.Background(), a, s, timeline.SkaterRef{Side: timeline.Home, Number: number}, o)
		if err == nil || !strings.Contains(err.Error(), want) || errors.Is(err, ErrNoConsent) != (number != "99") {
			t.Errorf("%s: %v, want %q", number, err, want)
		}
		if _, err := os.Stat(o.Dir); err == nil {
			t.Errorf("%s: a folder was made", number)
		}
	}
	o.Anyway, o.Dir = true, filepath.Join(t.TempDir(), "pack")
	if _, err := Pack(context.Background(), a, s, timeline.SkaterRef{Side: timeline.Home, Number: "7"}, o); err != nil {
		t.Errorf("asked for anyway: %v", err)
	}
}
