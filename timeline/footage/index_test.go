package footage

import (
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// anyIndex draws an index with groups of pictures, reordering and unsteady
// distances.
func anyIndex(t *rapid.T) *Index {
	n := rapid.IntRange(1, 300).Draw(t, "frames")
	base := rapid.SampledFrom([]Rational{{1, 30000}, {1, 90000}, {1, 1000}, {1001, 30000}, {1, 15360}}).Draw(t, "base")
	pts := rapid.Int64Range(-1<<40, 1<<40).Draw(t, "start")
	frames := make([]frame, n)
	for i := range frames {
		frames[i] = frame{pts, int32(i), i == 0 || rapid.IntRange(0, 9).Draw(t, "key") == 0}
		pts += rapid.Int64Range(1, 4000).Draw(t, "step")
	}
	for i := 1; i+1 < n; i += 3 {
		frames[i].decode, frames[i+1].decode = frames[i+1].decode, frames[i].decode
	}
	shuffled := rapid.Permutation(frames).Draw(t, "order")
	x := newIndex(base, shuffled, pts)
	x.cut = rapid.IntRange(0, n).Draw(t, "cut")
	return x
}

func TestFrameAtFindsWhatTimeSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := anyIndex(t)
		if x.Time(0) != 0 || x.Ticks(0) != 0 {
			t.Fatalf("film time begins at %v", x.Time(0))
		}
		if x.Time(x.Len()) != x.Duration() || x.Duration() <= x.Time(x.Len()-1) {
			t.Fatalf("the film ends at %v, its last frame begins at %v", x.Duration(), x.Time(x.Len()-1))
		}
		i := rapid.IntRange(0, x.Len()-1).Draw(t, "frame")
		if got := x.FrameAt(x.Time(i)); got != i {
			t.Fatalf("FrameAt(Time(%d)) is %d", i, got)
		}
		if got := x.FrameAt(x.Time(i+1) - 1); got != i {
			t.Fatalf("just before frame %d, frame %d is shown, want %d", i+1, got, i)
		}
		if got := x.Nearest(x.Time(i)); got != i {
			t.Fatalf("Nearest(Time(%d)) is %d", i, got)
		}
		film := time.Duration(rapid.Int64Range(-1e9, int64(x.Duration())+1e9).Draw(t, "film"))
		near, best := x.Nearest(film), time.Duration(math.MaxInt64)
		for j := range x.Len() {
			best = min(best, (film - x.Time(j)).Abs())
		}
		if got := (film - x.Time(near)).Abs(); got != best {
			t.Fatalf("Nearest(%v) is %v away, a frame is %v away", film, got, best)
		}
		if k := x.KeyBefore(i); k > i || k > 0 && !x.IsKey(k) || slices.Contains(x.key[k+1:i+1], true) {
			t.Fatalf("KeyBefore(%d) is %d of %v", i, k, trues(x.key))
		}
		if k := x.KeyAfter(i); k < i || k < x.Len() && !x.IsKey(k) || slices.Contains(x.key[i:k], true) {
			t.Fatalf("KeyAfter(%d) is %d of %v", i, k, trues(x.key))
		}
	})
}

func TestIndexFacts(t *testing.T) {
	steady := func(n int, step, jitter int64) *Index {
		var frames []frame
		for i := range int64(n) {
			frames = append(frames, frame{1000 + i*step + i%3*jitter, int32(i), i%10 == 0})
		}
		return newIndex(Rational{1, 90000}, frames, 0)
	}
	tests := []struct {
		name     string
		x        *Index
		variable bool
		interval time.Duration
		duration time.Duration
	}{
		{"steady", steady(30, 3000, 0), false, 33333333, time.Second},
		{"steady up to rounding", steady(30, 3000, 1), false, 33344444, 1000033333},
		{"unsteady", steady(30, 3000, 700), true, 41111111, 1023333333},
		{"one frame", steady(1, 3000, 0), false, 0, 11111},
		{"no frame", newIndex(Rational{1, 90000}, nil, 0), false, 0, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.x.Variable(); got != tt.variable {
				t.Errorf("variable: %v", got)
			}
			if got := tt.x.Interval(); got != tt.interval {
				t.Errorf("interval %d", got)
			}
			if got := tt.x.Duration(); got != tt.duration {
				t.Errorf("duration %d", got)
			}
		})
	}
	empty := newIndex(Rational{1, 90000}, nil, 0)
	if empty.FrameAt(0) != -1 || empty.Nearest(time.Second) != -1 || empty.Start() != 0 || empty.KeyBefore(0) != 0 {
		t.Error("an empty index has frames")
	}
}

func TestRationalDuration(t *testing.T) {
	tests := []struct {
		base  Rational
		ticks int64
		want  time.Duration
	}{
		{Rational{1, 30000}, 1001, 33366667},
		{Rational{1001, 30000}, 1, 33366667},
		{Rational{1, 3}, 1, 333333333},
		{Rational{1, 3}, -1, -333333333},
		{Rational{1, 90000}, 1 << 33, 95443717688889}, // the transport stream's clock at its end
		{Rational{1, 1}, math.MaxInt64, math.MaxInt64},
		{Rational{}, 5, 0},
	}
	for _, tt := range tests {
		if got := tt.base.Duration(tt.ticks); got != tt.want {
			t.Errorf("%d ticks of %v: %d, want %d", tt.ticks, tt.base, got, tt.want)
		}
	}
}

func TestDropLeading(t *testing.T) {
	// Decode order: key 2, then 0 and 1, then 3.
	x := newIndex(Rational{1, 10}, []frame{{0, 1, false}, {1, 2, false}, {2, 0, true}, {3, 3, false}}, 4)
	if n := leadingPackets(x); n != 3+leadingSlack {
		t.Errorf("%d packets to decode", n)
	}
	shown := []packet{{pts: 1, hasPTS: true}, {pts: 2, hasPTS: true}, {hasPTS: false}}
	if got := dropLeading(x, shown); !slices.Equal(got.pts, []int64{1, 2, 3}) || got.cut != 3 || got.end != 4 {
		t.Errorf("got %+v", got)
	}
	if got := dropLeading(x, nil); got != x {
		t.Error("without an answer nothing should be dropped")
	}
	closed := newIndex(Rational{1, 10}, []frame{{0, 0, true}, {1, 2, false}, {2, 1, false}, {3, 3, true}}, 4)
	if n := leadingPackets(closed); n != 0 {
		t.Errorf("a closed film needs %d packets", n)
	}
}
