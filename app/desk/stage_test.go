package desk

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/timeline"
)

// TestStageIsGivenBack: what the reel takes of the window (the keys, the picture,
// the whole screen) it gives back when it ends, when another task is shown and
// when the bout is closed while it plays.
func TestStageIsGivenBack(t *testing.T) {
	d, _ := opened(t)
	d.Apply("a reel",
		timeline.SetReel(timeline.Reel{ID: "r", Name: "Saturday"}),
		timeline.SetPart(timeline.Part{ID: "p", Reel: "r", Order: 1, Card: &timeline.Card{Title: timeline.Words{"": "Hits"}, Length: time.Hour}}))
	bare := func() bool { return d.covered() == fyne.CanvasObject(d.screen) && d.stage.grab == nil }
	d.press(keys.Press{Name: "5", Ctrl: true})
	if d.shown != task.Reel || bare() {
		t.Fatalf("%s is shown, and nothing lies over the picture", d.shown)
	}
	d.press(keys.Press{Name: "V"})
	if !d.full || !d.stage.alone {
		t.Error("not in full screen")
	}
	d.press(keys.Press{Name: "2", Ctrl: true}) // not while a team looks on
	if d.shown != task.Reel {
		t.Errorf("%s is shown", d.shown)
	}
	d.press(keys.Press{Name: "Escape"})
	if d.full || d.stage.alone {
		t.Error("still in full screen")
	}
	d.press(keys.Press{Name: "2", Ctrl: true})
	if d.shown != task.Log || !bare() {
		t.Error("Log is shown, and the reel kept something")
	}
	d.press(keys.Press{Name: "5", Ctrl: true})
	d.press(keys.Press{Name: "P"})
	d.set.Theme = "light"
	d.build() // as the preferences do
	if !bare() {
		t.Error("the window was built anew, and the reel kept something")
	}
	d.Show(task.Reel)
	d.press(keys.Press{Name: "P"})
	d.closeBout()
	d.build()
	if !bare() || d.session != nil {
		t.Error("the bout is closed, and the reel kept something")
	}
}
