package picture

import (
	"testing"
	"time"

	"whistlecut/timeline/simulate"
)

// BenchmarkRender720 draws a jam of a simulated bout on one core; the encoder
// is not in it.
func BenchmarkRender720(b *testing.B) {
	g := simulate.Play(1, simulate.Options{Periods: 1, Jams: 1, LeadIn: 5 * time.Second})
	hall, err := NewHall(StandSide, 1280, 720)
	if err != nil {
		b.Fatal(err)
	}
	p, err := NewPainter(hall, g.Teams)
	if err != nil {
		b.Fatal(err)
	}
	f := newFrame(1280, 720)
	o, c := NewOperator(StandSide, 1280, 720), NewCast()
	n := 0
	for b.Loop() {
		s := g.Scene(5*time.Second + time.Duration(n)*time.Second/30)
		p.Paint(f, o.Update(s), c.Update(s), n)
		n++
	}
	b.ReportMetric(float64(n)/30/b.Elapsed().Seconds(), "x-real-time")
}

func BenchmarkHall720(b *testing.B) {
	for b.Loop() {
		if _, err := NewHall(StandSide, 1280, 720); err != nil {
			b.Fatal(err)
		}
	}
}
