package strip

import (
	"fmt"
	"image"
	"testing"
)

func BenchmarkPaint(b *testing.B) {
	for _, tags := range []int{1000, 5000, 20_000} {
		in := Invented(1, 0, tags)
		axis := NewAxis(Pieces(in.Facts, in.Camera, nil))
		model := Build(in, axis)
		for _, zoom := range []float64{1, 8, 64, 1024} {
			b.Run(fmt.Sprintf("tags=%d/zoom=%.0f", tags, zoom), func(b *testing.B) {
				p := painter(b)
				img := image.NewRGBA(image.Rect(0, 0, 1920, 158))
				v := View{Axis: axis, Model: model, Words: in.Words, Colours: Dark(), Now: axis.Total() / 2, HasNow: true}
				p.Paint(img, 1, v)
				axis.ShowAll()
				axis.Zoom(zoom, 900)
				b.ReportAllocs()
				for b.Loop() {
					p.Paint(img, 1, v)
				}
			})
		}
	}
}

func BenchmarkBuild(b *testing.B) {
	for _, tags := range []int{1000, 5000, 20_000} {
		in := Invented(1, 0, tags)
		axis := NewAxis(Pieces(in.Facts, in.Camera, nil))
		b.Run(fmt.Sprintf("tags=%d", tags), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Build(in, axis)
			}
		})
	}
}
