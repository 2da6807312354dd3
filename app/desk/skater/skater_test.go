package skater

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/export/pack"
	"whistlecut/timeline"
)

// opened is the page of the skater with most penalties of a simulated bout.
func opened(t *testing.T, w, h float32) (*tasktest.Desk, *Task) {
	t.Helper()
	words.Set("en")
	t.Cleanup(func() { words.Set("en") })
	d := tasktest.New(t, tasktest.Options{Seed: 3, Jams: 5})
	p := New(d)
	d.Task = p
	best := 0
	for _, f := range d.Opened.Bout.Fouls {
		if len(f.Penalties) > best {
			best = len(f.Penalties)
			p.Of(f.Skater)
		}
	}
	tasktest.Wear(t, look.DarkPalette, 1)
	d.Open(t, w, h)
	if best == 0 || len(p.pg.Penalties) != best {
		t.Fatalf("%d penalties on the page, want %d", len(p.pg.Penalties), best)
	}
	return d, p
}

// TestPage: what the page has to say stands on it.
func TestPage(t *testing.T) {
	d, p := opened(t, 640, 520)
	text := d.Text()
	for _, w := range []string{
		string(p.who.Number), p.say.Range(p.pg.Record.All.For), "Penalties: ", "call on film hall.mp4", "sat in", "that foul out, the last in", "Beside the team's average",
		"In her own words", "From the coach", "Nothing is written yet.", "Jams fielded:",
	} {
		if !strings.Contains(text, w) {
			t.Errorf("the page lacks %q", w)
		}
	}
	d.Picture(t, "skater")
}

// TestPenaltyOnFilm: Enter goes to the act where it is tagged, A to the call.
func TestPenaltyOnFilm(t *testing.T) {
	d, p := opened(t, 640, 520)
	at := -1
	for range 60 {
		d.Keys(t, "Down")
		if row := p.page.Chosen(); row != nil {
			if at = p.penalty(row); at >= 0 {
				break
			}
		}
	}
	if at != 0 {
		t.Fatalf("the keys do not come to the first penalty, but to %d", at)
	}
	x := p.pg.Penalties[0]
	d.Keys(t, "Return", "A")
	want := x.Call[0]
	if len(x.Act) > 0 {
		want = x.Act[0]
	}
	if len(d.Went) != 2 || d.Went[0].Film != want.Film || d.Went[1].Film != x.Call[0].Film {
		t.Errorf("went to %v; act %v, call %v", d.Went, x.Act, x.Call)
	}
}

// TestWords: what is written is kept in the bout and can be undone.
func TestWords(t *testing.T) {
	d, p := opened(t, 640, 520)
	d.Keys(t, "W")
	p.wrote.text.SetText("  I came too late. ")
	p.wrote.dialog.Accept()
	d.Keys(t, "C")
	p.wrote.text.SetText("Look left.")
	p.wrote.dialog.Accept()
	f := d.Opened.Facts
	if a, b := f.Remark(p.who, timeline.BySkater), f.Remark(p.who, timeline.ByCoach); a != "I came too late." || b != "Look left." {
		t.Errorf("kept %q and %q", a, b)
	}
	if text := d.Text(); !strings.Contains(text, "I came too late.") || p.pg.Own != "I came too late." {
		t.Error("her words are not on the page")
	}
	if _, err := d.Opened.File.Undo(); err != nil {
		t.Fatal(err)
	}
	d.Changed()
	if d.Opened.Facts.Remark(p.who, timeline.ByCoach) != "" || strings.Contains(d.Text(), "Look left.") {
		t.Error("undo leaves the coach's words")
	}
}

// TestReel: her moments become a reel, those of another bout, too.
func TestReel(t *testing.T) {
	d, p := opened(t, 640, 520)
	d.Keys(t, "E")
	if got := d.Linked.Reels; len(got) != 1 || len(got[0].Batches) != 1 || len(got[0].Batches[0].Moments) < len(p.pg.Penalties) || !strings.Contains(got[0].Name, string(p.who.Number)) {
		t.Fatalf("a reel of %+v", got)
	}
	one := p.pg.Record.All.Jams
	p.take(copyOf(t, d))
	if len(p.pg.Bouts) != 2 || p.pg.Record.All.Jams != 2*one || !strings.Contains(d.Text(), "Bout by bout") {
		t.Fatalf("%d bouts, %d jams", len(p.pg.Bouts), p.pg.Record.All.Jams)
	}
	d.Keys(t, "E")
	if b := d.Linked.Reels[1].Batches; len(b) != 2 || b[0].Of != nil || b[1].Of == nil || len(b[1].Moments) == 0 {
		t.Errorf("a reel of two bouts has %+v", b)
	}
	went := len(d.Went)
	p.film(len(p.pg.Penalties)-1, true)
	if len(d.Went) != went || !strings.Contains(d.Said[len(d.Said)-1], "of another bout") {
		t.Error("a penalty of another bout is looked for on this bout's film")
	}
	p.take(d.Opened.Path)
	if !strings.Contains(d.Said[len(d.Said)-1], "on the page already") {
		t.Errorf("the open bout a second time: %q", d.Said)
	}
	d.Keys(t, "X")
	if len(p.pg.Bouts) != 1 {
		t.Error("the other bout stays")
	}
}

// copyOf is the same game in another bout file.
func copyOf(t *testing.T, d *tasktest.Desk) string {
	t.Helper()
	s, err := d.Program.Create(filepath.Join(t.TempDir(), "other"+app.Ext))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.Apply("the same game", timeline.FactsChanges(d.Opened.Facts)...); err != nil {
		t.Fatal(err)
	}
	return s.Path
}

// TestPack: what the dialog asks is what is made; a minor's pack only when it is
// said that she was asked.
func TestPack(t *testing.T) {
	d, p := opened(t, 640, 520)
	var asked []reels.PackOptions
	p.pack = func(_ context.Context, _ *app.App, _ *app.Session, who timeline.SkaterRef, o reels.PackOptions) (reels.Packed, error) {
		asked = append(asked, o)
		return reels.Packed{Made: pack.Made{Page: "page.html", Bytes: 5e6}, Reminders: []string{"Others are on this film, too."}}, nil
	}
	d.Keys(t, "K")
	p.packed.limit.SetText("lots")
	p.packed.dialog.Accept()
	if len(asked) != 0 || !strings.Contains(p.packed.dialog.Said(), "64 MB") {
		t.Errorf("a size that is none: %q", p.packed.dialog.Said())
	}
	p.packed.limit.SetText("20")
	p.packed.single.SetChecked(true)
	p.packed.dialog.Accept()
	if len(asked) != 1 || asked[0].Limit != 20e6 || !asked[0].Single || asked[0].Anyway || filepath.Base(asked[0].Dir) != filepath.Base(reels.PackDir("", p.who)) {
		t.Fatalf("asked for %+v", asked)
	}
	if text := d.Text(); !strings.Contains(text, "page.html") || !strings.Contains(text, "Others are on this film") {
		t.Error("where it is and who has to be asked is not told")
	}
	team := d.Opened.Facts.Teams[p.who.Side.Index()]
	team.Roster = append([]timeline.Skater(nil), team.Roster...)
	for i := range team.Roster {
		if team.Roster[i].Number == p.who.Number {
			team.Roster[i].Minor = true
		}
	}
	d.Apply("a minor", timeline.SetTeam(p.who.Side, team))
	if !strings.Contains(d.Text(), "A minor: not to be shared") {
		t.Error("the page does not say that she is a minor")
	}
	d.Keys(t, "K")
	p.packed.dialog.Accept()
	if len(asked) != 1 || p.packed.dialog.Said() == "" {
		t.Error("a minor's pack is made without a question")
	}
	p.packed.anyway.SetChecked(true)
	p.packed.dialog.Accept()
	if len(asked) != 2 || !asked[1].Anyway {
		t.Errorf("asked for %+v", asked)
	}
}

// TestNobody: without a skater the page asks for one.
func TestNobody(t *testing.T) {
	words.Set("en")
	d := tasktest.New(t, tasktest.Options{Seed: 3})
	p := New(d)
	d.Task = p
	tasktest.Wear(t, look.DarkPalette, 1)
	d.Open(t, 640, 520)
	if p.asking == nil || !p.asking.IsOpen() {
		t.Fatal("nobody is asked whose page it is")
	}
	p.asking.Close()
	d.Keys(t, "E", "K", "P", "W", "Down", "Return", "A")
	p.choose()
	p.asking.Accept()
	if p.who.Number == "" || len(p.pg.Bouts) != 1 {
		t.Errorf("chosen is %v", p.who)
	}
}

func TestMaster(t *testing.T) {
	for _, c := range []struct {
		name string
		w, h float32
	}{{"page", 640, 520}, {"page_narrow", 512, 420}} {
		d, _ := opened(t, c.w, c.h)
		d.Keys(t, "Down", "Down")
		test.AssertRendersToMarkup(t, c.name+".xml", d.Win.Canvas())
	}
}
