package picture

import "testing"

func BenchmarkBackdrop(b *testing.B) {
	h, err := NewHall(StandSide, 1280, 720)
	if err != nil {
		b.Fatal(err)
	}
	f := newFrame(1280, 720)
	cam := Camera{Place: StandSide, Yaw: 0.01, Pitch: 0.19, Focal: 1150, W: 1280, H: 720}
	for b.Loop() {
		h.backdrop(f, cam)
	}
}
