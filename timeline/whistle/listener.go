package whistle

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"time"
)

// Options of a Listener. The zero value suits recordings of a bout.
type Options struct {
	// Least is the confidence from which on a blast is reported, 0..1; 0 stands
	// for the value that gave the best balance of misses and false blasts.
	Least float64
	// Net judges instead of the trained judge that the package carries.
	Net *Net
	// Weigher weighs candidates instead of the trained one of the package.
	Weigher *Weigher
	// Look, if set, sees every hump that is judged: the number of its step (of 10
	// ms), its pitch in Hz and level in dB, and the judge's inputs, which are only
	// good until it returns. For training.
	Look func(step int, hz, level float64, in []float32)
}

// ring is how many frames are kept: a patch's reach on both sides and more.
const ring = 64

// Listener hears blasts in a stream of samples. It is for one goroutine.
type Listener struct {
	opts   Options
	framer *framer
	judge  *judge
	frames [ring]frame
	heard  int // frames computed
	judged int // frames judged
	rest   []float32
	count  int64
	loud   bool
	full   int64
	floor  [searchBins]float32
	in     [Inputs]float32
	pick   picker
	closed bool
}

// New returns a Listener.
func New(opts Options) *Listener {
	if opts.Net == nil {
		opts.Net = builtIn()
	}
	if opts.Weigher == nil {
		opts.Weigher = builtInWeigher()
	}
	l := &Listener{opts: opts, framer: newFramer(), judge: newJudge(opts.Net)}
	for i := range l.floor {
		l.floor[i] = -120
	}
	// Half a window of silence puts the middle of frame k at k steps.
	l.rest = make([]float32, window/2, window+8192)
	return l
}

// silence is the level below which a sample counts as no sound: one step of 16
// bits.
const silence = 1.0 / 32768

// Write hears mono samples in -1..1 at Rate. What is no number counts as
// silence, what is beyond the range as clipped.
func (l *Listener) Write(samples []float32) error {
	if l.closed {
		return errors.New("cannot hear more sound: the listener is closed; start a new one")
	}
	for len(samples) > 0 {
		n := min(len(samples), 4096)
		for _, x := range samples[:n] {
			l.rest = append(l.rest, l.check(x))
		}
		l.count += int64(n)
		samples = samples[n:]
		l.drain()
	}
	return nil
}

// check cleans one sample and counts loud and clipped ones.
func (l *Listener) check(x float32) float32 {
	if x != x {
		return 0
	}
	a := max(x, -x)
	if a > silence {
		l.loud = true
	}
	if a >= 0.999 {
		l.full++
		return clamp(x, -1, 1)
	}
	return x
}

func (l *Listener) drain() {
	at := 0
	for ; at+window <= len(l.rest); at += step {
		f := &l.frames[l.heard%ring]
		l.framer.fill(f, l.rest[at:at+window])
		l.sink()
		f.floor = l.floor
		l.heard++
		if l.heard > reach {
			l.judgeOne()
		}
	}
	l.rest = l.rest[:copy(l.rest, l.rest[at:])]
}

// sink lets the slow floor follow the spectrum of a quarter of a second ago:
// down fast, up over seconds.
func (l *Listener) sink() {
	if l.heard < reach {
		return
	}
	old := &l.frames[(l.heard-reach)%ring]
	for i := range l.floor {
		x := old.db[firstBin+i]
		if x > l.floor[i] {
			l.floor[i] += 0.006 * (x - l.floor[i])
		} else {
			l.floor[i] += 0.012 * (x - l.floor[i])
		}
	}
}

func (l *Listener) judgeOne() {
	t := l.judged
	first := max(0, l.heard-ring)
	at := func(i int) *frame { return &l.frames[min(max(t+i, first), l.heard-1)%ring] }
	f := at(0)
	d := judgedFrame{n: f.n, all: f.all, ground: f.ground}
	for i := range f.n {
		h := f.humps[i]
		patch(&l.in, at, h)
		if l.opts.Look != nil {
			l.opts.Look(t, float64(h.hz), float64(h.level), l.in[:])
		}
		v := l.judge.weigh(&l.in)
		d.humps[i] = judgedHump{hump: h, verdict: v, contrast: h.level - f.ground}
	}
	l.pick.add(d)
	l.judged++
}

// Close ends the sound and returns what was heard.
func (l *Listener) Close() (Result, error) {
	r, d, err := l.CloseDraft()
	if err != nil {
		return Result{}, err
	}
	for _, w := range d.Weigh(l.opts.Weigher, l.opts.Least) {
		r.Blasts = append(r.Blasts, w.Blast)
	}
	r.Series = group(r.Blasts)
	return r, nil
}

// CloseDraft is Close for those who weigh what was heard themselves: the result has
// neither blasts nor series.
func (l *Listener) CloseDraft() (Result, *Draft, error) {
	if l.closed {
		return Result{}, nil, errors.New("cannot end the sound twice: the listener is closed; start a new one")
	}
	l.closed = true
	// Silence at the end lets the last windows be judged.
	l.rest = append(l.rest, make([]float32, window)...)
	l.drain()
	for l.judged < l.heard {
		l.judgeOne()
	}
	r := Result{Length: time.Duration(float64(l.count) / Rate * float64(time.Second)), Silent: !l.loud}
	if l.count > 0 {
		r.Clipped = float64(l.full) / float64(l.count)
	}
	if r.Silent {
		return r, &Draft{length: r.Length}, nil
	}
	return r, l.pick.draft(r.Length), nil
}

// ListenWith hears all of r: 32-bit little-endian floating-point mono samples at
// Rate. total is the expected length, 0 if unknown; progress, if not nil, is told
// the share done (0..1) now and then. It ends early with ctx.
func ListenWith(ctx context.Context, r io.Reader, total time.Duration, progress func(done float64), opts Options) (Result, error) {
	l := New(opts)
	buf := make([]byte, 4*Rate)
	samples := make([]float32, Rate)
	for {
		if err := ctx.Err(); err != nil {
			return Result{}, fmt.Errorf("stopped listening for whistles: %w", err)
		}
		n, err := io.ReadFull(r, buf)
		k := n / 4
		for i := range k {
			b := buf[4*i : 4*i+4]
			samples[i] = math.Float32frombits(uint32(b[0]) | uint32(b[1])<<8 | uint32(b[2])<<16 | uint32(b[3])<<24)
		}
		if werr := l.Write(samples[:k]); werr != nil {
			return Result{}, werr
		}
		if progress != nil && total > 0 {
			progress(min(1, float64(l.count)/Rate/total.Seconds()))
		}
		if err == io.EOF || err == io.ErrUnexpectedEOF {
			break
		}
		if err != nil {
			return Result{}, fmt.Errorf("cannot listen for whistles: reading the sound failed after %.1f s: %w; check the file and try again", float64(l.count)/Rate, err)
		}
	}
	return l.Close()
}
