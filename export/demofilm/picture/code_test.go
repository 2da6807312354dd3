package picture

import "testing"

func TestCodeRoundTrip(t *testing.T) {
	for _, size := range [][2]int{{128, 72}, {640, 360}, {1280, 720}, {1920, 1080}} {
		f := newFrame(size[0], size[1])
		for _, n := range []int{0, 1, 2, 255, 4711, 108000, 1<<24 - 1} {
			drawCode(f, n)
			if got, ok := ReadCode(f.Y, f.W, f.W, f.H); !ok || got != n {
				t.Errorf("%v: wrote %d, read %d, %v", size, n, got, ok)
			}
		}
		// One flipped cell is noticed.
		cell := codeCell(f.W)
		for y := f.H - 2*cell; y < f.H-cell; y++ {
			fill(f.Y[y*f.W:y*f.W+cell], 16)
		}
		if got, ok := ReadCode(f.Y, f.W, f.W, f.H); ok {
			t.Errorf("%v: a damaged code was read as %d", size, got)
		}
	}
	f := newFrame(640, 360)
	f.Fill(Colour{128, 128, 128})
	if n, ok := ReadCode(f.Y, f.W, f.W, f.H); ok {
		t.Errorf("grey was read as %d", n)
	}
}

func FuzzReadCode(f *testing.F) {
	f.Add([]byte("short"), 64, 64, 64)
	frame := newFrame(128, 72)
	drawCode(frame, 99)
	f.Add(frame.Y, 128, 128, 72)
	f.Add(frame.Y, 1<<62, 128, 72)
	f.Fuzz(func(t *testing.T, luma []byte, stride, w, h int) {
		if n, ok := ReadCode(luma, stride, w, h); ok && (n < 0 || n >= 1<<24) {
			t.Errorf("read %d", n)
		}
	})
}
