package log

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/timeline/sheet/plant"
)

// TestPictures draws the panel in its states; WHISTLECUT_LOOK names a folder
// that the pictures go to. Each state has to fit and must not panic.
func TestPictures(t *testing.T) {
	d, l := opened(t, tasktest.Options{Seed: 2, Jams: 3, NoTags: true})
	d.Picture(t, "1-start")
	d.SetPaper(plant.Sheet(d.Game))
	j := d.Game.Truth.Jams[0]
	replay(t, d, l, j)
	d.At(d.Game.Truth.Jams[1].Start)
	press(t, d, name("Return"))
	d.Picture(t, "2-jammers")
	number(t, d, l, d.Game.Truth.Jams[1].Sides[0].Jammer)
	number(t, d, l, d.Game.Truth.Jams[1].Sides[1].Jammer)
	s := d.Game.Truth.Jams[1].Start
	d.At(s + 9*time.Second)
	press(t, d, upper(1))
	d.At(s + 22*time.Second)
	press(t, d, upper(8))
	d.At(s + 24*time.Second)
	press(t, d, upper(10))
	number(t, d, l, d.Game.Truth.Jams[1].Sides[0].Pivot)
	press(t, d, shifted("B"))
	d.At(s + 27*time.Second)
	press(t, d, upper(9), name("G"))
	d.At(s + 31*time.Second)
	press(t, d, lower(6))
	d.At(s + 42*time.Second)
	press(t, d, lower(7), name("`"))
	d.At(s + 46*time.Second)
	press(t, d, upper(7))
	d.Picture(t, "3-running")
	press(t, d, name("Down"), name("Down"))
	d.Picture(t, "4-correct")
	press(t, d, name("Escape"), lower(10))
	d.Picture(t, "5-penalty")
	if len(d.Failed) > 0 {
		t.Error(d.Failed)
	}
}

func TestSmallAndLarge(t *testing.T) {
	d := tasktest.New(t, tasktest.Options{Seed: 5, Jams: 3})
	d.SetPaper(plant.Sheet(d.Game))
	d.Set.Scale = 1.5
	l := New(d)
	d.Task = l
	tasktest.Wear(t, look.DarkPalette, d.Set.TextScale())
	d.Open(t, 600, 514)
	d.At(d.Game.Truth.Jams[2].Start + 20*time.Second)
	d.Picture(t, "6-large")
	d.Set.Scale = 1
	l = New(d)
	d.Task = l
	tasktest.Wear(t, look.DarkPalette, d.Set.TextScale())
	d.Open(t, 372, 400)
	d.At(d.Game.Truth.Jams[2].Start + 20*time.Second)
	d.Picture(t, "7-small")
	if h := l.panel.pile.MinSize().Height; l.panel.main.Size().Height >= h {
		t.Errorf("the panel needs %v and has %v: nothing to scroll", h, l.panel.main.Size().Height)
	}
}

func TestEmpty(t *testing.T) {
	d, _ := opened(t, tasktest.Options{Seed: 1, Jams: 1, NoFilm: true, NoTags: true})
	d.Picture(t, "8-nofilm")
}

// TestLanguages: no heading or key of the legend is cut in any language.
func TestLanguages(t *testing.T) {
	defer words.Set("en")
	for _, l := range words.Languages {
		words.Set(l.Code)
		d, k := opened(t, tasktest.Options{Seed: 2, Jams: 3})
		d.SetPaper(plant.Sheet(d.Game))
		d.At(d.Game.Truth.Jams[1].Start + 20*time.Second)
		press(t, d, lower(10))
		d.Picture(t, "9-"+l.Code)
		for id, c := range k.panel.ids {
			if got := look.Fit(c.Does, c.Size().Width-2, look.Size(9), fyne.TextStyle{}); got != c.Does {
				t.Errorf("%s: %s is cut to %q", l.Code, id, got)
			}
		}
	}
}
