package tasktest

import (
	"image"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/keys"
	"whistlecut/timeline"
)

// Staged is what a task asked of the stage, as it stands now.
type Staged struct {
	Cover     fyne.CanvasObject
	Size      image.Point // what Frame answers
	Rates     []float64   // each SetRate
	Second    timeline.ID
	Silent    bool
	Full      bool
	Taking    func(keys.Press) bool
	Collected []timeline.Moment
	Examples  []timeline.Moment
	Visited   []string // bouts
}

func (d *Desk) Cover(o fyne.CanvasObject)       { d.Staged.Cover = o }
func (d *Desk) Frame() image.Point              { return d.Staged.Size }
func (d *Desk) Beside(f timeline.ID)            { d.Staged.Second = f }
func (d *Desk) Mute(on bool)                    { d.Staged.Silent = on }
func (d *Desk) Alone(on bool)                   { d.Staged.Full = on }
func (d *Desk) Grab(take func(keys.Press) bool) { d.Staged.Taking = take }

// SetRate records the speed.
func (d *Desk) SetRate(r float64) {
	d.Staged.Rates = append(d.Staged.Rates, r)
	d.Where.Rate = r
}

// Collect records the moments.
func (d *Desk) Collect(m []timeline.Moment) { d.Staged.Collected = append(d.Staged.Collected, m...) }

// Exemplify records the moments.
func (d *Desk) Exemplify(m []timeline.Moment) { d.Staged.Examples = append(d.Staged.Examples, m...) }

// Visit records the bout.
func (d *Desk) Visit(bout string, _, _ timeline.ID, _, _ time.Duration) {
	d.Staged.Visited = append(d.Staged.Visited, bout)
}
