package demofilm

import (
	"context"
	"io"
	"sync"
	"time"

	"whistlecut/export/demofilm/picture"
	"whistlecut/timeline/simulate"
)

// frames draws a take and writes its frames one after the other as raw yuv420p.
// Scenes are followed in order by one goroutine; several painters work on the
// pictures; one writes them. It is an io.WriterTo so that whole frames go to
// ffmpeg without another copy.
type frames struct {
	ctx      context.Context
	game     *simulate.Game
	take     take
	hall     *picture.Hall
	painters []*picture.Painter
	drawn    func(n int) // called after frame n was written
}

// shot is one frame on its way.
type shot struct {
	number int
	leave  bool // the file leaves it out: not drawn
	frame  *picture.Frame
	cam    picture.Camera
	actors []picture.Actor
	done   chan struct{}
}

// Read is there for the interface; os/exec uses WriteTo.
func (f *frames) Read([]byte) (int, error) { return 0, io.ErrNoProgress }

// WriteTo draws the whole take.
func (f *frames) WriteTo(w io.Writer) (int64, error) {
	ctx, stop := context.WithCancel(f.ctx)
	var group sync.WaitGroup
	defer group.Wait()
	defer stop()

	depth := 2*len(f.painters) + 1
	free, work, order := make(chan *shot, depth), make(chan *shot, depth), make(chan *shot, depth)
	for range depth {
		frame, err := picture.NewFrame(f.hall.W, f.hall.H)
		if err != nil {
			return 0, err
		}
		free <- &shot{frame: frame, done: make(chan struct{}, 1)}
	}
	group.Go(func() {
		defer close(work)
		defer close(order)
		f.follow(ctx, free, work, order)
	})
	for _, p := range f.painters {
		group.Go(func() {
			for s := range work {
				if !s.leave {
					p.Paint(s.frame, s.cam, s.actors, s.number)
				}
				s.done <- struct{}{}
			}
		})
	}
	var written int64
	for s := range order {
		<-s.done
		n, err := w.Write(s.frame.Buf)
		written += int64(n)
		if err != nil {
			return written, err
		}
		f.drawn(s.number)
		free <- s
	}
	return written, ctx.Err()
}

// follow looks at one scene after the other and hands out the frames.
func (f *frames) follow(ctx context.Context, free, work, order chan *shot) {
	operator, cast := picture.NewOperator(f.take.place, f.hall.W, f.hall.H), picture.NewCast()
	// The operator was there before she pressed the button.
	const settle = 60
	for n := -settle; n < f.take.frames; n++ {
		film := f.take.rate.at(max(n, 0)) - f.take.rate.at(max(-n, 0))
		scene := f.game.Scene(f.take.game(film))
		cam, actors := operator.Update(scene), cast.Update(scene)
		if n < 0 {
			continue
		}
		var s *shot
		select {
		case s = <-free:
		case <-ctx.Done():
			return
		}
		s.number, s.leave, s.cam = n, !f.take.kept(n), cam
		s.actors = append(s.actors[:0], actors...)
		work <- s
		order <- s
	}
}

var _ io.WriterTo = (*frames)(nil)

// patience is how often progress is told at most.
const patience = 100 * time.Millisecond
