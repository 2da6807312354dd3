package screen

import (
	"image"
	"os"
	"sync/atomic"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/play"
)

// Painting is a window with nothing but a screen in it, which tells when a frame
// was painted. It is for measurements.
type Painting struct {
	screen  *Screen
	marker  *canvas.Raster
	taken   play.Shown
	painted atomic.Pointer[func(play.Shown)]
}

// Measure opens a window with a picture of so many pixels at scale 1, calls run
// on another goroutine and closes the window when run returns; it returns run's
// error. It must be called from the program's first goroutine.
func Measure(w, h int, run func(*Painting) error) error {
	if os.Getenv("LANG") == "" {
		os.Setenv("LANG", "C.UTF-8") // else Fyne complains
	}
	os.Setenv("FYNE_SCALE", "1")
	a := fyneapp.NewWithID("")
	p := &Painting{screen: New()}
	p.marker = canvas.NewRaster(nil)
	// Its picture is asked for while the window is being painted, after which the
	// window's goroutine comes to what waits for it.
	p.marker.Generator = func(w, h int) image.Image {
		s := p.taken
		go fyne.Do(func() {
			if f := p.painted.Load(); f != nil {
				(*f)(s)
			}
		})
		return image.NewRGBA(image.Rect(0, 0, w, h))
	}
	win := a.NewWindow("Whistlecut")
	win.SetPadded(false)
	win.SetContent(container.NewStack(p.screen, container.NewWithoutLayout(p.marker)))
	p.marker.Resize(fyne.NewSize(1, 1))
	win.Resize(fyne.NewSize(float32(w), float32(h)))
	win.SetMaster()
	var err error
	a.Lifecycle().SetOnStarted(func() {
		go func() {
			err = run(p)
			fyne.Do(func() { win.Close() })
		}()
	})
	win.ShowAndRun()
	return err
}

// Show shows a frame. It may be called from any goroutine.
func (p *Painting) Show(s play.Shown) {
	p.screen.newest.Store(&s)
	if p.screen.waiting.Swap(true) {
		return
	}
	fyne.Do(func() {
		p.screen.waiting.Store(false)
		p.taken = *p.screen.newest.Load()
		p.screen.take(p.taken)
		p.marker.Refresh()
	})
}

// OnPainted sets what is called, on the window's goroutine, with the frame that a
// painting of the window has just shown.
func (p *Painting) OnPainted(f func(play.Shown)) { p.painted.Store(&f) }
