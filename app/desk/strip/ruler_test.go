package strip

import (
	"image"
	"slices"
	"testing"
	"time"

	"whistlecut/timeline"
)

// listed are frames at any times.
type listed []time.Duration

func (l *listed) Len() int                 { return len(*l) - 1 }
func (l *listed) Time(i int) time.Duration { return (*l)[i] }
func (l *listed) FrameAt(t time.Duration) int {
	i, found := slices.BinarySearch(*l, t)
	if !found {
		i--
	}
	return min(max(i, 0), l.Len()-1)
}

func unevenly() *listed {
	l := listed{0}
	for i := range 600 {
		l = append(l, l[i]+time.Duration(15+i*7%23)*time.Millisecond)
	}
	return &l
}

// TestTicksStandAtFrames: at the deepest zoom every tick of the ruler is a frame
// and every frame has one, at any frame rate.
func TestTicksStandAtFrames(t *testing.T) {
	steadily := func(fps float64, n int) *listed {
		l := listed{}
		for i := range n + 1 {
			l = append(l, time.Duration(float64(i)*float64(time.Second)/fps))
		}
		return &l
	}
	for _, c := range []struct {
		name   string
		frames Frames
	}{
		{"50 a second", steadily(50, 1000)},
		{"59.94 a second", steadily(60000.0/1001, 1200)},
		{"25 a second", steadily(25, 500)},
		{"at uneven times", unevenly()},
		{"not known", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			piece := Piece{Footage: "f", Film: timeline.TimeRange{End: 10 * time.Second}, Frames: c.frames}
			p := painter(t)
			v := View{Words: English(), Colours: Dark(), Axis: NewAxis([]Piece{piece})}
			const w, h = 1280, 158
			p.Arrange(w, h, 1, v.Words, v.Axis)
			v.Axis.Zoom(1e9, 600)
			img := image.NewRGBA(image.Rect(0, 0, w, h))
			p.Paint(img, 1, v)
			var got, want []int
			line := v.Colours.Line
			lane := p.Lanes[LaneRuler]
			for x := p.Zoomed.Min.X; x < p.Zoomed.Max.X; x++ {
				if r, g, b, _ := img.At(x, lane.Max.Y-1).RGBA(); r>>8 == uint32(line.R) && g>>8 == uint32(line.G) && b>>8 == uint32(line.B) {
					got = append(got, x)
				}
			}
			f := piece.frames()
			from, to := v.Axis.Window()
			for i := f.FrameAt(from); f.Time(i) <= to; i++ {
				if x := p.x(f.Time(i)); f.Time(i) >= from && x < p.Zoomed.Max.X {
					want = append(want, x)
				}
			}
			if !slices.Equal(got, want) || len(got) < 20 {
				t.Errorf("ticks at %v, frames at %v", got, want)
			}
		})
	}
}
