package footage

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// plainEnds is a file of 60 s at 25 frames a second with nothing to tell its place.
func plainEnds(name string) ends {
	return ends{name: name, format: "h264", interval: 40 * time.Millisecond, length: time.Minute}
}

// TestArrangeByClocks puts files with nothing but clocks in order.
func TestArrangeByClocks(t *testing.T) {
	day := time.Date(2024, 5, 4, 20, 0, 0, 0, time.UTC)
	tests := []struct {
		name  string
		make  func(e *ends, place int) // place: true position, 0 to 2
		right bool                     // the order comes out right
		sure  bool
		join  bool // joints are continuous
	}{
		{"nothing tells", func(*ends, int) {}, false, false, false},
		{"stream times without a gap", func(e *ends, i int) { e.start = 10*time.Second + time.Duration(i)*time.Minute }, true, true, true},
		{"stream times that begin anew in each file", func(e *ends, i int) { e.start = 1400 * time.Millisecond }, false, false, false},
		{"stream times after pauses", func(e *ends, i int) { e.start = 10*time.Second + time.Duration(i)*90*time.Second }, true, false, false},
		{"time codes without a gap", func(e *ends, i int) { e.hasCode, e.timecode = true, time.Duration(i)*time.Minute }, true, true, true},
		{"time codes over midnight", func(e *ends, i int) {
			e.hasCode, e.timecode = true, (23*time.Hour+59*time.Minute+time.Duration(i)*time.Minute)%(24*time.Hour)
		}, true, true, true},
		{"time codes after pauses", func(e *ends, i int) { e.hasCode, e.timecode = true, time.Duration(i)*5*time.Minute }, true, true, false},
		{"time codes that begin anew in each file", func(e *ends, i int) { e.hasCode = true }, false, false, false},
		{"only the camera's clock", func(e *ends, i int) { e.created = day.Add(time.Duration(i) * 2 * time.Minute) }, true, false, false},
		{"only the disk's clock", func(e *ends, i int) { e.written = day.Add(time.Duration(i) * time.Second) }, true, false, false},
		{"time codes against both clocks", func(e *ends, i int) {
			e.hasCode, e.timecode = true, time.Duration(i)*time.Minute
			e.created, e.written = day.Add(-time.Duration(i)*time.Hour), day.Add(-time.Duration(i)*time.Hour)
		}, true, true, true},
	}
	place := []int{1, 2, 0} // given in this order
	want := []int{2, 0, 1}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var files []ends
			for _, p := range place {
				e := plainEnds(fmt.Sprint(p))
				tt.make(&e, p)
				files = append(files, e)
			}
			o := arrange(files)
			if tt.right && !slices.Equal(o.Order, want) {
				t.Errorf("order %v, want %v: %v", o.Order, want, o.Why)
			}
			if o.Sure() != tt.sure {
				t.Errorf("confidence %.3f: %v", o.Confidence, o.Why)
			}
			if !tt.right && math.Abs(o.Confidence-1.0/6) > 1e-9 {
				t.Errorf("confidence %.3f of six orders that are alike", o.Confidence)
			}
			for _, j := range o.Joints {
				if j.Continuous != tt.join {
					t.Errorf("joint %+v", j)
				}
			}
			if said := strings.Contains(strings.Join(o.Why, " "), "not sure"); said == tt.sure {
				t.Errorf("it says %q", o.Why)
			}
		})
	}
}

// TestStillCameraTellsNothing: on a stand, with nobody moving, every picture is
// like every other.
func TestStillCameraTellsNothing(t *testing.T) {
	still := make([]byte, smallWidth*smallHeight)
	files := []ends{plainEnds("a"), plainEnds("b"), plainEnds("c")}
	for i := range files {
		files[i].head, files[i].tail = [][]byte{still, still}, [][]byte{still, still}
		files[i].headSound, files[i].tailSound = make([]float64, earBands), make([]float64, earBands)
	}
	if o := arrange(files); math.Abs(o.Confidence-1.0/6) > 1e-9 {
		t.Errorf("confidence %.3f: %v", o.Confidence, o.Why)
	}
}

// TestUnrelatedMomentsAreNotSure: pictures that have nothing in common, as of
// another view each, must not look like an order.
func TestUnrelatedMomentsAreNotSure(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	view := func() [][]byte {
		first, second := make([]byte, smallWidth*smallHeight), make([]byte, smallWidth*smallHeight)
		var blocks [16 * 9]byte
		for i := range blocks {
			blocks[i] = byte(r.IntN(256))
		}
		for i := range first {
			first[i] = blocks[i/smallWidth/10*16+i%smallWidth/10]
			second[i] = first[i] ^ byte(r.IntN(4)) // a step within the shot
		}
		return [][]byte{first, second}
	}
	bands := func() []float64 {
		list := make([]float64, earBands)
		for i := range list {
			list[i] = -60 + 40*r.Float64()
		}
		return list
	}
	for range 200 {
		files := make([]ends, 2+r.IntN(4))
		for i := range files {
			files[i] = plainEnds(fmt.Sprint(i))
			files[i].head, files[i].tail = view(), view()
			files[i].headSound, files[i].tailSound = bands(), bands()
			files[i].headMoves, files[i].tailMoves = 2, 2
		}
		if o := arrange(files); o.Sure() {
			t.Fatalf("confidence %.3f: %v", o.Confidence, o.Why)
		}
	}
}

// TestLikeliestIsTheBestOfAll compares the table with all orders tried one by one.
func TestLikeliestIsTheBestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "files")
		score := make([][]float64, n)
		for i := range score {
			for range n {
				score[i] = append(score[i], rapid.Float64Range(-5, 9).Draw(t, "score"))
			}
		}
		best, total := math.Inf(-1), 0.0
		joint := map[[2]int]float64{}
		var walk func(path []int, sum float64)
		walk = func(path []int, sum float64) {
			if len(path) == n {
				best = max(best, sum)
				total += math.Exp(sum)
				for k := 1; k < n; k++ {
					joint[[2]int{path[k-1], path[k]}] += math.Exp(sum)
				}
				return
			}
			for i := range n {
				if !slices.Contains(path, i) {
					step := 0.0
					if len(path) > 0 {
						step = score[path[len(path)-1]][i]
					}
					walk(append(slices.Clone(path), i), sum+step)
				}
			}
		}
		walk(nil, 0)
		near, nearly, nearJoints := neighbours(score)
		if w := weight(score, near); w > best+1e-9 || nearly < math.Exp(w)/total-1e-6 || len(nearJoints) != n-1 {
			t.Fatalf("moving single files: order %v weighs %v with %v", near, w, nearly)
		}
		order, confidence, joints := likeliest(score)
		sum := 0.0
		for k := 1; k < n; k++ {
			sum += score[order[k-1]][order[k]]
			if want := joint[[2]int{order[k-1], order[k]}] / total; math.Abs(joints[k-1]-want) > 1e-6 {
				t.Fatalf("joint %d: %v, want %v", k, joints[k-1], want)
			}
		}
		if math.Abs(sum-best) > 1e-9 || math.Abs(confidence-math.Exp(best)/total) > 1e-6 {
			t.Fatalf("order %v weighs %v with %v, the best weighs %v with %v", order, sum, confidence, best, math.Exp(best)/total)
		}
	})
}

// TestManyFiles: more than can be weighed in all orders.
func TestManyFiles(t *testing.T) {
	var files []ends
	for i := range maxExact + 6 {
		e := plainEnds(fmt.Sprint(i))
		e.hasCode, e.timecode = true, time.Duration(i*7%20)*time.Minute
		files = append(files, e)
	}
	o := arrange(files)
	for k := 1; k < len(o.Order); k++ {
		if files[o.Order[k]].timecode < files[o.Order[k-1]].timecode {
			t.Fatalf("order %v", o.Order)
		}
	}
	if !o.Sure() || len(o.Joints) != len(files)-1 {
		t.Errorf("confidence %v, %d joints", o.Confidence, len(o.Joints))
	}
	var alike []ends
	for i := range maxExact + 6 {
		alike = append(alike, plainEnds(fmt.Sprint(i)))
	}
	if o := arrange(alike); o.Sure() || len(o.Order) != len(alike) {
		t.Errorf("files alike: confidence %v, order %v", o.Confidence, o.Order)
	}
}

func TestOneFileIsInOrder(t *testing.T) {
	for _, files := range [][]ends{nil, {plainEnds("a")}} {
		if o := arrange(files); !o.Sure() || len(o.Order) != len(files) || len(o.Joints) != 0 {
			t.Errorf("%d files: %+v", len(files), o)
		}
	}
}

func TestOrderStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Order(ctx, nil, []*File{opened(t, "closed"), opened(t, "bframes")}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestParseTimecode(t *testing.T) {
	ntsc := Rational{30000, 1001}
	tests := []struct {
		code string
		rate Rational
		want time.Duration
		ok   bool
	}{
		{"00:00:00:00", Rational{25, 1}, 0, true},
		{"10:20:30:05", Rational{25, 1}, 10*time.Hour + 20*time.Minute + 30*time.Second + 200*time.Millisecond, true},
		// SMPTE ST 12-1: dropping keeps 01:00:00;00 within a frame of one hour,
		// without dropping it is 3.6 s later.
		{"01:00:00;00", ntsc, 3599996400 * time.Microsecond, true},
		{"01:00:00:00", ntsc, 3603600 * time.Millisecond, true},
		{"00:01:00;02", ntsc, Rational{1001, 30000}.Duration(1800), true},
		{"24:00:00:00", Rational{25, 1}, 0, false},
		{"00:00:00", Rational{25, 1}, 0, false},
		{"aa:00:00:00", Rational{25, 1}, 0, false},
		{"00:00:00:00", Rational{}, 0, false},
	}
	for _, tt := range tests {
		got, ok := parseTimecode(tt.code, tt.rate)
		if ok != tt.ok || got != tt.want {
			t.Errorf("%s at %v: %v, %v; want %v, %v", tt.code, tt.rate, got, ok, tt.want, tt.ok)
		}
	}
}
