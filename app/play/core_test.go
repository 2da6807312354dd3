package play

import (
	"errors"
	"image"
	"io"
	"sync"
	"testing"
	"time"
)

// fakeSource gives frames when the test says so.
type fakeSource struct{ runs []*run }

func (s *fakeSource) start(r request) *run {
	x := newRun(r)
	s.runs = append(s.runs, x)
	return x
}

func (s *fakeSource) last() *run { return s.runs[len(s.runs)-1] }

// rig is a core with fake sources and a clock that the test moves.
type rig struct {
	*core
	src *fakeSource
	now time.Time
}

func newRig(l line) *rig {
	src := &fakeSource{}
	c := newCore(1000 * 64)
	c.box = image.Pt(4, 4)
	c.child, c.sound = src, &sounds{wg: &sync.WaitGroup{}}
	r := &rig{c, src, time.Unix(1000, 0)}
	c.load(r.now, l)
	for i := range l {
		if l[i].settled {
			c.settled(r.now, i)
		}
	}
	return r
}

func (r *rig) after(d time.Duration) {
	r.now = r.now.Add(d)
	r.step(r.now)
}

// give answers a run with all it may decode, as far as it is let.
func (r *rig) give(x *run) {
	for x.next <= min(x.limit, x.last) && !x.ended {
		r.take(r.now, answer{from: x, pic: small(pos{x.film, x.next}, false)})
	}
	r.step(r.now)
}

func TestOlderWishesAreVoid(t *testing.T) {
	r := newRig(lineOf(1000))
	r.after(0)
	first := r.src.last()
	r.after(time.Second)
	r.seek(r.now, Spot{"a", 500 * frameGap})
	r.after(0)
	second := r.src.last()
	if first == second || !first.ended {
		t.Fatal("the older decoder was not stopped")
	}
	r.take(r.now, answer{from: first, pic: small(pos{0, 0}, false)})
	r.step(r.now)
	if r.cur != nil {
		t.Fatalf("frame %d was shown for an older wish", r.cur.frame)
	}
	r.give(second)
	if r.cur == nil || r.cur.frame != 500 || r.wish != nil {
		t.Fatalf("%+v", r.cur)
	}
}

func TestDragStartsFewDecodersAndShowsSomething(t *testing.T) {
	r := newRig(lineOf(100000))
	r.after(0)
	r.give(r.src.last())
	before := len(r.src.runs)
	shown := 0
	for i := range 200 { // 3.2 s of dragging, no decoder ready within 600 ms
		r.seek(r.now, Spot{"a", time.Duration(1000+300*i) * frameGap})
		r.after(16 * time.Millisecond)
		if m := r.main; m != nil && r.now.Sub(r.mainBegan) > 600*time.Millisecond && !r.mainGave {
			r.take(r.now, answer{from: m, pic: small(pos{0, m.first}, false)})
			r.step(r.now)
			shown++
		}
	}
	if n := len(r.src.runs) - before; n > 40 || shown < 2 {
		t.Errorf("%d decoders were started, %d frames shown on the way", n, shown)
	}
	for range 200 {
		r.after(20 * time.Millisecond)
		r.give(r.src.last())
	}
	if want := 1000 + 300*199; r.cur.frame != want {
		t.Errorf("frame %d stands, the newest wish is %d", r.cur.frame, want)
	}
}

func TestRestDecodesNeighboursAndSpots(t *testing.T) {
	r := newRig(lineOf(2000))
	r.seek(r.now, Spot{"a", 1000 * frameGap})
	r.spots = []Spot{{"a", 300 * frameGap}, {"nobody", 0}}
	r.after(0)
	r.give(r.src.last())
	for range 60 {
		r.after(20 * time.Millisecond)
		for _, x := range []*run{r.main, r.side} {
			if x == nil {
				continue
			}
			r.give(x)
			if x.next > x.last {
				r.take(r.now, answer{from: x, next: x.next, err: io.EOF})
			}
		}
	}
	for _, i := range []int{1000, 1010, 1020, 990, 975, 300 - spotLead, 300, 300 + spotRun - 1} {
		if !r.cache.has(pos{0, i}) {
			t.Errorf("frame %d was not decoded", i)
		}
	}
	if r.main.limit > 1100 {
		t.Errorf("the decoder was let run to frame %d", r.main.limit)
	}
	// A step over what is there needs no decoder.
	before := len(r.src.runs)
	r.stepBy(r.now, -5)
	r.after(0)
	if r.cur.frame != 995 || len(r.src.runs) != before {
		t.Errorf("frame %d, %d new decoders", r.cur.frame, len(r.src.runs)-before)
	}
}

func TestPlayingFollowsTheClock(t *testing.T) {
	r := newRig(lineOf(100, 50))
	r.after(0)
	r.play(r.now)
	var seen []pos
	var when []time.Time
	for range 5000 {
		if r.main != nil {
			r.give(r.main)
			if m := r.main; m != nil && m.next > m.last {
				r.take(r.now, answer{from: m, next: m.next, err: io.EOF})
			}
		}
		if r.cur != nil && (len(seen) == 0 || seen[len(seen)-1] != r.cur.pos) {
			seen, when = append(seen, r.cur.pos), append(when, r.now)
		}
		if r.ended {
			break
		}
		r.after(2 * time.Millisecond)
	}
	if len(seen) != 150 || r.stats.Dropped != 0 || !r.ended {
		t.Fatalf("%d frames, %+v", len(seen), r.stats)
	}
	for i := 3; i < len(when); i++ {
		if d := when[i].Sub(when[i-1]); d < frameGap-3*time.Millisecond || d > frameGap+3*time.Millisecond {
			t.Errorf("frame %v came %v after the one before", seen[i], d)
		}
	}
}

func TestSlowDecoderIsJumpedAhead(t *testing.T) {
	r := newRig(lineOf(5000))
	r.after(0)
	r.give(r.src.last())
	r.play(r.now)
	for range 2500 { // 10 s; the decoder gives 10 frames a second of 25
		if m := r.main; m != nil && m.next <= m.limit && m.next <= m.last && r.now.Sub(r.mainBegan) > 100*time.Millisecond && r.now.UnixMilli()%100 < 4 {
			r.take(r.now, answer{from: m, pic: small(pos{0, m.next}, false)})
		}
		r.after(4 * time.Millisecond)
	}
	if r.cur.frame < 180 || r.stats.Dropped == 0 {
		t.Errorf("after 10 s at 25 frames a second frame %d stands, %+v", r.cur.frame, r.stats)
	}
}

func TestFailureSaysWhere(t *testing.T) {
	r := newRig(lineOf(1000))
	r.after(0)
	r.give(r.src.last())
	r.seek(r.now, Spot{"a", 75 * frameGap})
	r.after(time.Second)
	x := r.src.last()
	x.next = 70
	r.take(r.now, answer{from: x, next: 70, err: errors.New("garbage")})
	r.step(r.now)
	if s := r.shown(); s.State != Broken || s.Note != "the picture of . cannot be decoded from 0:02.800 on: garbage" {
		t.Errorf("%s %q", s.State, s.Note)
	}
	if r.wish == nil || r.wish.p.frame != 69 {
		t.Errorf("the last good frame is not asked for: %+v", r.wish)
	}
}

func TestLoopBeyondTheFilmStaysInIt(t *testing.T) {
	r := newRig(lineOf(20, 20))
	r.after(0)
	r.give(r.src.last())
	r.loop = &loop{"a", 15 * frameGap, time.Hour}
	r.seek(r.now, Spot{"a", 15 * frameGap})
	r.after(time.Second)
	r.play(r.now)
	turns, last := 0, 15
	for range 2000 {
		if r.main != nil {
			r.give(r.main)
		}
		if r.cur.film != 0 {
			t.Fatalf("the loop of film 0 shows film %d", r.cur.film)
		}
		if r.cur.frame < last {
			turns++
		}
		last = r.cur.frame
		r.after(4 * time.Millisecond)
	}
	if turns < 5 {
		t.Errorf("%d turns in 8 s", turns)
	}
}

// TestPlayingWaitsForADecoderThatStartsSlowly: jumping ahead would fall behind
// again, for ever.
func TestPlayingWaitsForADecoderThatStartsSlowly(t *testing.T) {
	r := newRig(lineOf(5000))
	r.after(0)
	r.after(7 * time.Second)
	r.take(r.now, answer{from: r.main, pic: small(pos{0, 0}, false)})
	r.step(r.now)
	r.play(r.now)
	starts := len(r.src.runs)
	for range 10000 { // 40 s; the decoder gives 20 frames a second of 25
		if m := r.main; m != nil && m.next <= m.limit && m.next <= m.last && r.now.Sub(r.mainBegan) > 7*time.Second && r.now.UnixMilli()%50 < 4 {
			r.take(r.now, answer{from: m, pic: small(pos{0, m.next}, false)})
		}
		r.after(4 * time.Millisecond)
	}
	if r.cur.frame < 400 || r.stats.Played < 300 || len(r.src.runs)-starts > 3 {
		t.Errorf("after 40 s frame %d stands, %+v, %d decoders started", r.cur.frame, r.stats, len(r.src.runs)-starts)
	}
}

func TestPlacesAheadAreKeptFromWhenTheyAreNamed(t *testing.T) {
	r := newRig(lineOf(2000))
	r.cache.limit = 60 * int64(4*r.sizeOf(0).X*r.sizeOf(0).Y)
	r.seek(r.now, Spot{"a", 300 * frameGap})
	r.after(0)
	r.give(r.src.last())
	if !r.cache.has(pos{0, 300}) {
		t.Fatal("the frame sought is not kept")
	}
	r.spots = []Spot{{"a", 300 * frameGap}}
	r.keepSpots()
	for i := range 200 {
		r.cache.here = pos{0, 1000 + i}
		r.cache.put(&picture{pos: r.cache.here, img: r.cache.pool.get(r.sizeOf(0).X, r.sizeOf(0).Y)})
	}
	if !r.cache.has(pos{0, 300}) {
		t.Error("the place gone from, which was named as one to come back to, was dropped")
	}
}
