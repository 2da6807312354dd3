package align

import (
	"image"
	_ "image/jpeg" // the photos a phone takes
	_ "image/png"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// mostPixels bounds the photo that is decoded: no phone takes more.
const mostPixels = 200e6

// photo shows a picture of the paper, larger or smaller, moved about.
type photo struct {
	scroll *container.Scroll
	image  *canvas.Image
	size   image.Point
	scale  float32 // shown width to the room's
}

func newPhoto() *photo {
	hint := look.Note(words.T("The photo of the paper shows here: JPEG or PNG."))
	return &photo{scroll: container.NewScroll(hint), scale: 1}
}

// open shows a file.
func (p *photo) open(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	c, _, err := image.DecodeConfig(f)
	if err != nil {
		return err
	}
	if c.Width*c.Height > mostPixels || c.Width <= 0 {
		return image.ErrFormat
	}
	if _, err := f.Seek(0, 0); err != nil {
		return err
	}
	picture, _, err := image.Decode(f)
	if err != nil {
		return err
	}
	p.image = canvas.NewImageFromImage(picture)
	p.image.FillMode = canvas.ImageFillStretch // sized by the picture's own shape
	p.size, p.scale = picture.Bounds().Size(), 1
	p.scroll.Content = p.image
	p.zoom(1)
	return nil
}

// zoom shows the photo so much larger, round what stands in the middle.
func (p *photo) zoom(by float32) {
	if p.image == nil {
		return
	}
	room := p.scroll.Size()
	before := p.scale
	p.scale = min(max(p.scale*by, 0.5), 8)
	w := max(room.Width, 80) * p.scale
	p.image.SetMinSize(fyne.NewSize(w, w*float32(p.size.Y)/float32(p.size.X)))
	f := p.scale / before
	p.scroll.Offset = fyne.NewPos((p.scroll.Offset.X+room.Width/2)*f-room.Width/2, (p.scroll.Offset.Y+room.Height/2)*f-room.Height/2)
	p.hold()
}

// pan moves the photo a little.
func (p *photo) pan(k fyne.KeyName) {
	const step = 60
	switch k {
	case fyne.KeyLeft:
		p.scroll.Offset.X -= step
	case fyne.KeyRight:
		p.scroll.Offset.X += step
	case fyne.KeyUp:
		p.scroll.Offset.Y -= step
	case fyne.KeyDown:
		p.scroll.Offset.Y += step
	}
	p.hold()
}

// hold keeps the photo within its room.
func (p *photo) hold() {
	room, m := p.scroll.Size(), p.scroll.Content.MinSize()
	p.scroll.Offset.X = min(max(p.scroll.Offset.X, 0), max(m.Width-room.Width, 0))
	p.scroll.Offset.Y = min(max(p.scroll.Offset.Y, 0), max(m.Height-room.Height, 0))
	p.scroll.Refresh()
}
