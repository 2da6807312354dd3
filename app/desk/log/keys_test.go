package log

import (
	"strings"
	"testing"
	"time"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
	"whistlecut/timeline/simulate"
)

// at is the key at a place of a letter row, by its hardware code; the name is
// what another layout may print on it.
func at(row string, n int) keys.Press {
	want := keys.Chord{Key: row + " " + string(rune('0'+n))}.Key
	if n == 10 {
		want = row + " 10"
	}
	for code := range 256 {
		if keys.Position(code) == want {
			return keys.Press{Code: code}
		}
	}
	return keys.Press{}
}

func upper(n int) keys.Press      { return at(keys.Upper, n) }
func lower(n int) keys.Press      { return at(keys.Lower, n) }
func name(n string) keys.Press    { return keys.Press{Name: n} }
func shifted(n string) keys.Press { return keys.Press{Name: n, Shift: true} }
func ctrl(n string) keys.Press    { return keys.Press{Name: n, Ctrl: true} }

func press(t *testing.T, d *tasktest.Desk, ps ...keys.Press) {
	t.Helper()
	for _, p := range ps {
		d.Press(t, p)
	}
}

// number types a skater's number and closes it where the roster leaves it open.
func number(t *testing.T, d *tasktest.Desk, l *Task, n timeline.Number) {
	t.Helper()
	_, before, _ := l.m.Prompt(l.view())
	for _, r := range string(n) {
		press(t, d, name(string(r)))
	}
	if p, after, ok := l.m.Prompt(l.view()); ok && after == before && p.Typed != "" {
		press(t, d, name("Return"))
	}
}

// replay presses the keys of one jam as it was played: by hardware codes and
// names alone, at their film times.
func replay(t *testing.T, d *tasktest.Desk, l *Task, j *simulate.Jam) {
	t.Helper()
	type stroke struct {
		at   time.Duration
		keys []keys.Press
	}
	var list []stroke
	add := func(at time.Duration, ks ...keys.Press) { list = append(list, stroke{at, ks}) }
	for n, x := range j.Sides {
		row := []string{keys.Upper, keys.Lower}[n]
		initial := name([]string{"S", "J"}[n])
		if x.Lead {
			add(x.LeadAt, at(row, 1))
		}
		if x.Lost {
			add(x.LostAt, at(row, 2))
		}
		for _, tr := range x.Trips {
			switch when := tr.End; {
			case tr.Number == 1 && tr.Open:
				add(j.Duration()+time.Second, initial)
			case tr.Number == 1:
				add(when, initial)
			default:
				if tr.Open {
					when = j.Duration() + time.Second
				}
				add(when, at(row, 4+len(tr.Points)))
			}
		}
		if x.Called && j.Ended == timeline.EndCalled {
			add(min(x.CalledAt, j.Duration()-time.Millisecond), name("Escape"))
		}
	}
	d.At(j.Start)
	press(t, d, name("Return"))
	number(t, d, l, j.Sides[0].Jammer)
	number(t, d, l, j.Sides[1].Jammer)
	add(j.Duration(), name("Return"))
	for len(list) > 0 {
		i := 0
		for k := range list {
			if list[k].at < list[i].at {
				i = k
			}
		}
		d.At(j.Start + list[i].at)
		press(t, d, list[i].keys...)
		list = append(list[:i], list[i+1:]...)
	}
}

// TestJamByKeys: a jam of an empty bout, logged by keys alone, counts as it was
// played, and every edit can be taken back.
func TestJamByKeys(t *testing.T) {
	played := 0
	for seed := uint64(1); seed <= 3; seed++ {
		d, l := opened(t, tasktest.Options{Seed: seed, Jams: 2, NoTags: true})
		j := d.Game.Truth.Jams[0]
		if j.Sides[0].StarPasses != nil || j.Sides[1].StarPasses != nil {
			continue // those keys are replayed in package logging
		}
		played++
		replay(t, d, l, j)
		got := d.Opened.Bout.Jams[0]
		for n, s := range got.Sides {
			if s.Points != timeline.Exactly(j.Sides[n].Points) || s.Jammer.Number != j.Sides[n].Jammer || s.Lead != j.Sides[n].Lead {
				t.Errorf("seed %d, %s: logged %v of %s (lead %v), played %d of %s (lead %v)", seed, timeline.Sides[n], s.Points, s.Jammer.Number, s.Lead, j.Sides[n].Points, j.Sides[n].Jammer, j.Sides[n].Lead)
			}
		}
		if len(d.Failed) > 0 {
			t.Errorf("failed: %v", d.Failed)
		}
		for range d.Labels {
			if _, err := d.Opened.File.Undo(); err != nil {
				t.Fatal(err)
			}
		}
		d.Changed()
		if n := len(d.Opened.Facts.Tags); n != 0 {
			t.Errorf("seed %d: %d tags are left after undoing everything", seed, n)
		}
	}
	if played == 0 {
		t.Error("no jam without a star pass was found")
	}
}

// nosheet fails when the sheet is asked for.
type nosheet struct {
	*tasktest.Desk
	t *testing.T
}

func (n nosheet) Sheet() *sheet.Sheet {
	n.t.Error("blind logging asked for the sheet")
	return n.Desk.Sheet()
}

func (n nosheet) Report() *sheet.Report {
	n.t.Error("blind logging asked for the report")
	return n.Desk.Report()
}

func TestBlindKnowsNoSheet(t *testing.T) {
	d := tasktest.New(t, tasktest.Options{Seed: 2, Jams: 2, NoTags: true})
	paper := plant.Sheet(d.Game)
	d.Paper = &paper
	d.Set.Blind = true
	l := New(nosheet{d, t})
	d.Task = l
	tasktest.Wear(t, look.DarkPalette, d.Set.TextScale())
	d.Open(t, 412, 514)
	replay(t, d, l, d.Game.Truth.Jams[0])
	press(t, d, name("G"), name("H"), ctrl("Return"), upper(9), name("G"), upper(10), name("H"))
	l.Waiting()
	if l.panel.offers.Visible() {
		t.Error("blind logging shows what the sheet has")
	}
}

func TestGuidedOffers(t *testing.T) {
	d, l := opened(t, tasktest.Options{Seed: 2, Jams: 2, NoTags: true})
	d.SetPaper(plant.Sheet(d.Game))
	j := d.Game.Truth.Jams[0]
	d.At(j.Start)
	press(t, d, name("Return"), name("G"), name("H"))
	for i := range 30 {
		d.At(j.Start + j.Duration()*time.Duration(5+i)/40)
		press(t, d, name("G"), name("H"))
	}
	d.At(j.End)
	press(t, d, name("Return"))
	for n, s := range d.Opened.Bout.Jams[0].Sides {
		if s.Points != timeline.Exactly(j.Sides[n].Points) || s.Jammer.Number != j.Sides[n].Jammer {
			t.Errorf("%s: %v of %s, the sheet has %d of %s", timeline.Sides[n], s.Points, s.Jammer.Number, j.Sides[n].Points, j.Sides[n].Jammer)
		}
	}
	press(t, d, ctrl("G"))
	if l.guided() || l.panel.offers.Visible() {
		t.Error("Ctrl+G did not turn to blind")
	}
}

func TestNoClash(t *testing.T) {
	b := keys.NewBook(nil)
	_, l := opened(t, tasktest.Options{Seed: 1, Jams: 1})
	b.Add(l.Actions()...)
	taken := []string{
		"Space", "Left", "Right", "Shift+Left", "Shift+Right", "Ctrl+Left", "Ctrl+Right", "Ctrl+Up", "Ctrl+Down", "F", "L", "F1", "F3", "F4", "F6",
		"F7", "F8", "F10", "F11", "Shift+F1", "Ctrl+Z", "Ctrl+Shift+Z", "Ctrl+Y", "Ctrl+1", "Ctrl+2", "Ctrl+3", "Ctrl+4", "Ctrl+5", "Ctrl+6", "Ctrl+O",
		"Ctrl+N", "Ctrl+H", "Ctrl+W", "Ctrl+Q", "Ctrl+,", "Alt+Left", "Alt+Right", "Alt+Up", "Alt+Down", "Home", "End",
	}
	for _, c := range taken {
		b.Add(keys.Action{ID: "everywhere " + c, Keys: []keys.Chord{keys.MustParse(c)}})
	}
	if c := b.Clashes(); len(c) > 0 {
		t.Errorf("clashes: %v", c)
	}
}

// TestLights: the key pressed last is lit, and only that.
func TestLights(t *testing.T) {
	d, l := opened(t, tasktest.Options{Seed: 1, Jams: 1})
	d.At(d.Game.Truth.Jams[0].Start + 5*time.Second)
	press(t, d, upper(8), lower(6))
	for id, c := range l.panel.ids {
		if c.Lit != (id == "log.away.trip2") {
			t.Errorf("%s: lit %v", id, c.Lit)
		}
	}
	if got := l.panel.caps[0][0].Letter + l.panel.caps[1][9].Letter; got != "Q/" {
		t.Errorf("the legend has %q at the ends", got)
	}
}

// TestWords: every sentence and label has words, and none is empty.
func TestWords(t *testing.T) {
	_, l := opened(t, tasktest.Options{Seed: 3, Jams: 3})
	for _, code := range []string{"en", "de", "fr", "es"} {
		words.Set(code)
		for s := sayFirst; s <= sayLast; s++ {
			if strings.TrimSpace(l.sentence(say(s))) == "" {
				t.Errorf("%s: sentence %d has no words", code, s)
			}
		}
	}
	words.Set("en")
}

var _ task.Desk = nosheet{}

// TestTimeoutKeys: a timeout is asked whose, stands among the last tags, is one step
// of the history, and the same key ends it.
func TestTimeoutKeys(t *testing.T) {
	d, _ := opened(t, tasktest.Options{Seed: 2, Jams: 2, NoTags: true})
	first := d.Game.Truth.Jams[0]
	d.At(first.Start)
	press(t, d, name("Return"))
	d.At(first.End)
	press(t, d, name("Return"))
	d.At(first.End + 2*time.Second)
	press(t, d, ctrl("T"))
	if !strings.Contains(text(d), "Whose timeout?") {
		t.Error("nobody is asked whose timeout it is")
	}
	press(t, d, lower(3))
	stops := func() []timeline.Tag { return d.Session().Bout.Timeouts }
	if s := stops(); len(s) != 1 || s[0].Kind != timeline.KindTimeout || s[0].Side != timeline.Away {
		t.Fatalf("timeouts %+v", s)
	}
	if !strings.Contains(text(d), "timeout, away") {
		t.Error("it is not among the last tags")
	}
	d.At(first.End + 40*time.Second)
	press(t, d, ctrl("T"))
	if s := stops(); len(s) != 1 || s[0].Timeout.End.IsZero() {
		t.Fatalf("after the second press: %+v", s)
	}
	press(t, d, ctrl("R"), upper(1))
	if s := stops(); len(s) != 2 || s[1].Kind != timeline.KindReview || s[1].Side != timeline.Home {
		t.Fatalf("with the review: %+v", s)
	}
}
