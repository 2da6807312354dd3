package play

import (
	"image"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
)

// evenly is an index of frames at equal distances.
type evenly struct {
	n   int
	gap time.Duration
	key int // distance of key frames
}

func (e evenly) Len() int                 { return e.n }
func (e evenly) Playable() int            { return e.n }
func (e evenly) Time(i int) time.Duration { return time.Duration(i) * e.gap }
func (e evenly) KeyBefore(i int) int      { return i / e.key * e.key }

func (e evenly) KeyAfter(i int) int { return min(e.n, (i+e.key-1)/e.key*e.key) }

func (e evenly) FrameAt(t time.Duration) int {
	return min(max(0, int(t/e.gap)), e.n-1)
}

const frameGap = 40 * time.Millisecond

// lineOf is a line of films with these numbers of frames; a negative number is
// a film that is missing, 0 one that isn't opened yet.
func lineOf(frames ...int) line {
	var l line
	for i, n := range frames {
		s := &stretch{Film: Film{ID: timeline.ID(rune('a' + i))}}
		switch {
		case n > 0:
			s.settle(evenly{n, frameGap, 10})
		case n < 0:
			s.settled, s.state, s.note = true, Missing, "gone"
		}
		l = append(l, s)
	}
	return l
}

func TestLineMoves(t *testing.T) {
	l := lineOf(10, 5, 8, -1, 6, 0)
	for _, c := range []struct {
		name string
		from pos
		n    int
		want pos
	}{
		{"within a film", pos{0, 3}, 4, pos{0, 7}},
		{"over an edge", pos{0, 9}, 1, pos{1, 0}},
		{"over two edges", pos{0, 8}, 8, pos{2, 1}},
		{"back over two edges", pos{2, 1}, -8, pos{0, 8}},
		{"stays at the start", pos{0, 2}, -9, pos{0, 0}},
		{"stays before a missing film", pos{2, 6}, 9, pos{2, 7}},
		{"stays after a missing film", pos{4, 1}, -9, pos{4, 0}},
		{"stays before a film that isn't open", pos{4, 1}, 9, pos{4, 5}},
		{"not at all", pos{1, 1}, 0, pos{1, 1}},
	} {
		if got := l.move(c.from, c.n); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// TestMoveAndBetweenAgree holds the two against each other on any line.
func TestMoveAndBetweenAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := lineOf(rapid.SliceOfN(rapid.IntRange(1, 9), 1, 5).Draw(t, "films")...)
		film := rapid.IntRange(0, len(l)-1).Draw(t, "film")
		from := pos{film, rapid.IntRange(0, l[film].hi-1).Draw(t, "frame")}
		n := rapid.IntRange(-50, 50).Draw(t, "n")
		to := l.move(from, n)
		if d := l.between(from, to); d != n && (to != l.move(from, n*100)) || d*n < 0 {
			t.Fatalf("from %v by %d to %v, which is %d away", from, n, to, d)
		}
		if back := l.move(to, -l.between(from, to)); back != from {
			t.Fatalf("there and back from %v is %v", from, back)
		}
	})
}

func TestSettleKeepsToTheBout(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to time.Duration
		lo, hi   int
	}{
		{"all", 0, 0, 0, 100},
		{"on frames", 10 * frameGap, 20 * frameGap, 10, 20},
		{"between frames", 10*frameGap + 1, 20*frameGap + 1, 10, 21},
		{"beyond the film", 0, time.Hour, 0, 100},
		{"from beyond the film", time.Hour, 0, 99, 100},
		{"nothing", 10 * frameGap, 10 * frameGap, 10, 11},
	} {
		s := &stretch{Film: Film{From: c.from, To: c.to}}
		s.settle(evenly{100, frameGap, 10})
		if s.lo != c.lo || s.hi != c.hi {
			t.Errorf("%s: %d to %d", c.name, s.lo, s.hi)
		}
	}
}

func TestCourse(t *testing.T) {
	l := lineOf(10, 5, -1)
	round := course{film: 0, from: 2 * frameGap, loop: true, loopFrom: 4 * frameGap, loopTo: 7 * frameGap}
	for _, c := range []struct {
		name   string
		c      course
		played time.Duration
		want   place
	}{
		{"at its start", course{film: 0, from: 3 * frameGap}, 0, place{p: pos{0, 3}, film: 3 * frameGap, left: frameGap}},
		{"within a frame", course{film: 0, from: 3 * frameGap}, frameGap + 10, place{p: pos{0, 4}, film: 4*frameGap + 10, left: frameGap - 10}},
		{"over an edge", course{film: 0, from: 9 * frameGap}, frameGap + 5, place{p: pos{1, 0}, film: 5, left: frameGap - 5}},
		{"before what is missing", course{film: 1}, time.Hour, place{p: pos{1, 4}, film: 5 * frameGap, how: stuck}},
		{"before a loop", round, frameGap, place{p: pos{0, 3}, film: 3 * frameGap, left: frameGap}},
		{"in the first turn", round, 6 * frameGap, place{p: pos{0, 5}, film: 5 * frameGap, left: frameGap, turn: 1}},
		{"in the third", round, 11 * frameGap, place{p: pos{0, 4}, film: 4 * frameGap, left: frameGap, turn: 3}},
	} {
		if got := c.c.at(l, c.played); got != c.want {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	if got := (course{film: 0}).at(lineOf(4), time.Hour); got.how != atEnd || got.p != (pos{0, 3}) {
		t.Errorf("at the end: %+v", got)
	}
	if next, ok := round.next(l, pos{0, 6}); !ok || next != (pos{0, 4}) {
		t.Errorf("after the loop's last frame comes %v", next)
	}
}

// TestPiecesAreTheCourse adds up what is heard: at any time it is the sound of
// the place that the course shows.
func TestPiecesAreTheCourse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := lineOf(rapid.SliceOfN(rapid.IntRange(1, 9), 1, 4).Draw(t, "films")...)
		c := course{film: 0, from: time.Duration(rapid.IntRange(0, l[0].hi-1).Draw(t, "from")) * frameGap}
		if rapid.Bool().Draw(t, "loop") {
			c.loop, c.loopTo = true, l[0].over()
			c.loopFrom = time.Duration(rapid.IntRange(0, l[0].hi-1).Draw(t, "loop from")) * frameGap
		}
		at := time.Duration(rapid.Int64Range(0, int64(30*frameGap)).Draw(t, "at"))
		want := c.at(l, at)
		left, found := at, false
		c.pieces(l, func(p piece) bool {
			if left < p.to-p.from {
				found = true
				if p.film != want.p.film || p.from+left != want.film {
					t.Fatalf("%v is heard at %v of film %d and seen at %v of film %d", at, p.from+left, p.film, want.film, want.p.film)
				}
				return false
			}
			left -= p.to - p.from
			return true
		})
		if found == (want.how == atEnd) {
			t.Fatalf("the picture ends: %v, the sound: %v", want.how == atEnd, !found)
		}
	})
}

func TestHeardIsEven(t *testing.T) {
	// A count that steps by 13 ms, asked every 4 ms, while the device runs a bit
	// faster than our clock.
	var h heard
	t0 := time.Unix(0, 0)
	last := time.Duration(-1)
	for ms := range 3000 {
		if ms%4 != 0 {
			continue
		}
		real := time.Duration(float64(ms) * 1.001 * float64(time.Millisecond))
		const step = 13 * time.Millisecond
		got := h.at(t0.Add(time.Duration(ms)*time.Millisecond), real/step*step)
		if ms > 0 && got < last-2*time.Millisecond {
			t.Fatalf("at %d ms it went back from %v to %v", ms, last, got)
		}
		if d := got - real; d > 5*time.Millisecond || d < -step-5*time.Millisecond {
			t.Fatalf("at %d ms %v was heard, the estimate is %v", ms, real, got)
		}
		last = got
	}
	// A device that stops takes the estimate with it, and is found out.
	stop := t0.Add(3 * time.Second)
	a, b := h.at(stop.Add(time.Second), h.raw), h.at(stop.Add(2*time.Second), h.raw)
	if a != b || a > 3*time.Second+200*time.Millisecond || h.stalled(stop.Add(time.Second)) || !h.stalled(stop.Add(3*time.Second)) {
		t.Errorf("after the stop %v and %v", a, b)
	}
}

type stillVoice struct{ heard time.Duration }

func (v *stillVoice) Heard() time.Duration { return v.heard }
func (v *stillVoice) SetVolume(float64)    {}
func (v *stillVoice) Stop()                {}

func TestClockGoesFromWallToSoundAndBack(t *testing.T) {
	t0 := time.Unix(100, 0)
	at := func(ms int) time.Time { return t0.Add(time.Duration(ms) * time.Millisecond) }
	c := newClock(t0, 0)
	if got := c.played(at(500)); got != 500*time.Millisecond {
		t.Errorf("wall: %v", got)
	}
	v := &stillVoice{-30 * time.Millisecond}
	c.join(at(500), v, 530*time.Millisecond)
	if got := c.played(at(500)); got != 500*time.Millisecond {
		t.Errorf("joined: %v", got)
	}
	for ms := 510; ms <= 700; ms += 10 {
		v.heard = time.Duration(ms-530) * time.Millisecond
		if got, want := c.played(at(ms)), time.Duration(ms)*time.Millisecond; got < want-time.Millisecond || got > want+time.Millisecond {
			t.Errorf("sound at %v: %v", want, got)
		}
	}
	before := c.played(at(710))
	c.leave(at(710))
	if got := c.played(at(810)); got != before+100*time.Millisecond {
		t.Errorf("left at %v, then %v", before, got)
	}
	// A voice that falls back does not take the picture with it.
	c.join(at(810), &stillVoice{}, 0)
	if got := c.played(at(820)); got != before+100*time.Millisecond {
		t.Errorf("went back to %v", got)
	}
}

func small(p pos, light bool) *picture {
	return &picture{pos: p, img: image.NewRGBA(image.Rect(0, 0, 4, 4)), light: light}
}

func TestCacheKeepsWhatIsNear(t *testing.T) {
	c := newCache(20*64, &pool{})
	c.line = lineOf(1000)
	c.here = pos{0, 500}
	c.spots = []pos{{0, 900}}
	for i := range 1000 {
		c.put(small(pos{0, i}, false))
		if c.held > c.limit || c.held != int64(len(c.pics)*64) {
			t.Fatalf("%d bytes are held by %d pictures", c.held, len(c.pics))
		}
	}
	for _, i := range []int{500, 497, 503, 900, 904} {
		if !c.has(pos{0, i}) {
			t.Errorf("frame %d was dropped", i)
		}
	}
	// A light picture gives way to a full one and not the other way round.
	full := c.get(pos{0, 500})
	c.put(small(pos{0, 500}, true))
	if c.get(pos{0, 500}) != full {
		t.Error("a light picture replaced a full one")
	}
	c.stale()
	if c.sharp(pos{0, 500}) {
		t.Error("a stale picture counts as sharp")
	}
	better := small(pos{0, 500}, false)
	c.put(better)
	if c.get(pos{0, 500}) != better {
		t.Error("a light picture was kept")
	}
}

// TestShownPicturesAreLeftAlone takes buffers as a decoder does and checks that
// none of the last shown ones is among them.
func TestShownPicturesAreLeftAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := newCache(10*64, &pool{})
		c.line = lineOf(1000)
		var shown []*image.RGBA
		for range rapid.IntRange(1, 200).Draw(t, "steps") {
			i := rapid.IntRange(0, 40).Draw(t, "frame")
			c.here = pos{0, i}
			if pic := c.get(c.here); pic != nil {
				c.show(pic)
				shown = append(shown, pic.img)
				continue
			}
			img := c.pool.get(4, 4)
			for _, s := range shown[max(0, len(shown)-4):] {
				if s == img {
					t.Fatal("a buffer that is on the screen was handed out")
				}
			}
			c.put(&picture{pos: c.here, img: img, light: rapid.Bool().Draw(t, "light")})
		}
	})
}

func TestPlanBlocksTakesFirstRangesFirst(t *testing.T) {
	l := lineOf(3000, -1, 1200) // blocks of 500 frames
	list := planBlocks(l, []Range{{"c", 21 * time.Second, 30 * time.Second}, {"a", 70 * time.Second, 81 * time.Second}, {"b", 0, time.Hour}, {"x", 0, time.Hour}})
	want := []block{{2, 500, 1000}, {0, 1500, 2000}, {0, 2000, 2500}, {0, 0, 500}, {0, 500, 1000}, {0, 1000, 1500}, {0, 2500, 3000}, {2, 0, 500}, {2, 1000, 1200}}
	if len(list) != len(want) {
		t.Fatalf("%v", list)
	}
	for i := range want {
		if list[i] != want[i] {
			t.Errorf("block %d is %v, want %v", i, list[i], want[i])
		}
	}
}

func TestFit(t *testing.T) {
	for _, c := range []struct{ w, h, boxW, boxH, wantW, wantH int }{
		{1920, 1080, 960, 540, 960, 540},
		{1920, 1080, 1000, 540, 960, 540},
		{1920, 1080, 4000, 4000, 1920, 1080},
		{1080, 1920, 960, 540, 304, 540},
		{641, 361, 700, 700, 641, 361},
		{1920, 1080, 1, 1, 2, 2},
		{0, 0, 5, 5, 2, 2},
	} {
		if w, h := fit(c.w, c.h, c.boxW, c.boxH); w != c.wantW || h != c.wantH {
			t.Errorf("%+v: %dx%d", c, w, h)
		}
	}
	if w, h := lightSize(1080, 1920); w != 540 || h != 960 {
		t.Errorf("an upright film is %dx%d", w, h)
	}
}
