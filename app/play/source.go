package play

import (
	"context"
	"image"
	"sync"

	"whistlecut/timeline/footage"
)

// request asks for frames first..last of a film, in rising order.
type request struct {
	gen         uint64 // of the wish that made it; a newer one makes it void
	film        int
	first, last int
	size        image.Point // pixels
	probe       int         // it is tried whether the frames before this one can be decoded; 0: none
}

// answer is one frame of a request, or the reason why none comes any more: err
// is io.EOF after the last one.
type answer struct {
	from *run // of which request
	pic  *picture
	next int // number of the frame that did not come
	err  error
}

// source gives frames by number. Start returns at once; the answers come one
// after the other on the channel given to the source. It returns nil when the
// source has none of the frames.
type source interface {
	start(r request) *run
}

// run is a request being answered. Its owner lets it go on with limit, so that
// it does not decode more than is wanted.
type run struct {
	request
	light bool // frames are of a light copy
	next  int  // the frame that comes next; the owner's

	mu     sync.Mutex
	wake   *sync.Cond
	limit  int // frames up to this one may be decoded
	ended  bool
	cancel context.CancelFunc
	ctx    context.Context
}

func newRun(r request) *run {
	x := &run{request: r, next: r.first, limit: r.first}
	x.wake = sync.NewCond(&x.mu)
	x.ctx, x.cancel = context.WithCancel(context.Background())
	return x
}

// allow lets a run decode up to and including a frame.
func (r *run) allow(frame int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if frame > r.limit {
		r.limit = frame
		r.wake.Broadcast()
	}
}

// stop ends a run; it returns at once.
func (r *run) stop() {
	r.mu.Lock()
	r.ended = true
	r.wake.Broadcast()
	r.mu.Unlock()
	r.cancel()
}

// wait waits until a frame is wanted; false when the run was stopped.
func (r *run) wait(frame int) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	for !r.ended && frame > r.limit {
		r.wake.Wait()
	}
	return !r.ended
}

// children decode by ffmpeg, one child a run.
type children struct {
	files func(film int) *footage.File
	pool  *pool
	out   chan<- answer
	wg    *sync.WaitGroup
}

func (c *children) start(r request) *run {
	file := c.files(r.film)
	if file == nil {
		return nil
	}
	x := newRun(r)
	c.wg.Go(func() {
		defer x.cancel()
		next, err := c.decode(x, file)
		x.send(c.out, answer{from: x, next: next, err: err})
	})
	return x
}

func (c *children) decode(x *run, file *footage.File) (next int, err error) {
	frames, err := file.Frames(x.ctx, x.first, x.last+1, footage.Picture{Width: x.size.X, Height: x.size.Y})
	if err != nil {
		return x.first, err
	}
	defer frames.Close()
	for n := x.first; ; n++ {
		// Behind the last frame nothing is waited for: the run ends.
		if n <= x.last && !x.wait(n) {
			return n, x.ctx.Err()
		}
		img := c.pool.get(x.size.X, x.size.Y)
		if _, err := frames.Next(img.Pix); err != nil {
			c.pool.put(img)
			return n, err
		}
		if !x.send(c.out, answer{from: x, pic: &picture{pos: pos{x.film, n}, img: img}}) {
			c.pool.put(img)
			return n, x.ctx.Err()
		}
	}
}

// send gives an answer to the owner; false when the run was stopped first.
func (r *run) send(out chan<- answer, a answer) bool {
	select {
	case out <- a:
		return true
	case <-r.ctx.Done():
		return false
	}
}
