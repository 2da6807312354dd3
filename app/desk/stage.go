package desk

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/examples"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/timeline"
)

// stage is what a task has taken of the window for the time being.
type stage struct {
	cover fyne.CanvasObject // over the picture
	grab  func(keys.Press) bool
	muted bool
	alone bool // the film in full screen without the desk's own caption
}

// Cover lays an object over the picture.
func (d *Desk) Cover(o fyne.CanvasObject) {
	if d.stage.cover != o {
		d.stage.cover = o
		if d.middle != nil {
			d.middle.screens()
		}
	}
}

// covered is the screen with what lies over it.
func (d *Desk) covered() fyne.CanvasObject {
	if d.stage.cover == nil {
		return d.screen
	}
	return container.NewStack(d.screen, d.stage.cover)
}

// Frame is the size of the picture shown, in pixels.
func (d *Desk) Frame() image.Point {
	if s := d.latest.Load(); s != nil && s.Image != nil {
		return s.Image.Rect.Size()
	}
	return image.Point{}
}

// SetRate sets the film's speed.
func (d *Desk) SetRate(rate float64) {
	d.player.SetRate(rate)
	if d.second != nil {
		d.second.SetRate(rate)
	}
}

// Beside shows the camera of a file beside the first.
func (d *Desk) Beside(footage timeline.ID) {
	if d.session == nil {
		return
	}
	camera := ""
	if f, ok := d.session.Facts.Footage[footage]; ok {
		camera = f.Camera
	}
	if camera == d.camera {
		camera = ""
	}
	if camera != d.other {
		d.setSecond("")
		if camera != "" {
			d.setSecond(camera)
		}
		d.arrange()
	}
}

// Mute silences the film, or lets it sound as the settings say.
func (d *Desk) Mute(on bool) {
	if d.stage.muted == on {
		return
	}
	d.stage.muted = on
	if on {
		d.player.SetVolume(0)
	} else {
		d.player.SetVolume(d.set.SoundVolume())
	}
}

// Alone shows the film in full screen, or the desk again.
func (d *Desk) Alone(on bool) {
	d.stage.alone = on
	if d.full != on {
		d.fullScreen()
	} else {
		d.moved()
	}
}

// Grab hands presses to a task first.
func (d *Desk) Grab(take func(keys.Press) bool) { d.stage.grab = take }

// Collect puts moments into the reel that is worked on.
func (d *Desk) Collect(moments []timeline.Moment) { d.reeler.Collect(moments) }

// Exemplify makes moments examples for officials to learn from.
func (d *Desk) Exemplify(moments []timeline.Moment) { d.gatherer().Collect(moments) }

// gatherer is the task that gathers examples.
func (d *Desk) gatherer() *examples.Task {
	for _, t := range d.tasks {
		if x, ok := t.(*examples.Task); ok {
			return x
		}
	}
	return examples.New(d) // of no bar, it gathers all the same
}

// Visit opens another bout and shows a moment of it. Where the bout cannot be
// opened at once, for example because it is in use, the person is asked and the
// moment is not shown.
func (d *Desk) Visit(bout string, tag, footage timeline.ID, from, to time.Duration) {
	d.Open(bout)
	if d.session != nil && d.session.Path == bout {
		d.Show(task.Examples)
		d.gatherer().Arrive(tag, footage, from, to)
	}
}
