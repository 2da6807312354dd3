package ffmpeg

import (
	"context"
	"errors"
	"io"
	"sync"
)

// Stream is the standard output of a running ffmpeg, for raw frames or sound.
// Reading and closing may happen in different goroutines; Close may be called
// at any time and more than once.
type Stream struct {
	child  *child
	stdout io.ReadCloser
	stop   context.CancelFunc

	endOnce sync.Once
	endErr  error

	mu     sync.Mutex
	closed bool
}

// Start starts ffmpeg and returns its standard output. The job must not write
// files: Close kills ffmpeg at once, so that a seek is quick. Read returns
// io.EOF after a clean end and an [*Error] when ffmpeg failed or ctx ended.
// Start takes no slot of the parallel jobs: what a person looks at or listens
// to does not wait for clips. The caller must Close the stream.
func (r *Runner) Start(ctx context.Context, job Job) (*Stream, error) {
	if job.Stdout != nil {
		return nil, errors.New("ffmpeg: a job to Start has its own standard output; leave Stdout empty")
	}
	ctx, stop := context.WithCancel(ctx)
	job.Stdout = io.Discard // so that progress goes to the log, not among the data
	c, err := r.child(ctx, job)
	if err != nil {
		stop()
		return nil, err
	}
	c.cmd.Stdout = nil
	c.cmd.Cancel = func() error { return kill(c.cmd) }
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		stop()
		return nil, c.startError(err)
	}
	if err := c.cmd.Start(); err != nil {
		stop()
		return nil, c.startError(err)
	}
	return &Stream{child: c, stdout: out, stop: stop}, nil
}

// Read reads from ffmpeg's standard output.
func (s *Stream) Read(p []byte) (int, error) {
	n, err := s.stdout.Read(p)
	if n > 0 {
		return n, nil
	}
	if err == nil {
		return 0, nil
	}
	s.mu.Lock()
	closed := s.closed
	s.mu.Unlock()
	if closed {
		return 0, io.ErrClosedPipe
	}
	if end := s.end(); end != nil {
		return 0, end
	}
	return 0, io.EOF
}

// Close ends ffmpeg if it still runs and frees its resources. It returns nil:
// failures were reported by Read.
func (s *Stream) Close() error {
	s.mu.Lock()
	s.closed = true
	s.mu.Unlock()
	s.stop()
	_ = s.end()
	return nil
}

// Log returns the beginning and end of ffmpeg's log so far.
func (s *Stream) Log() string { return s.child.tail.String() }

// end waits for the child once. The pipe is at its end or is being closed, so
// Wait, which closes it, takes nothing from a reader.
func (s *Stream) end() error {
	s.endOnce.Do(func() {
		s.endErr = s.child.wait()
		s.stop()
	})
	return s.endErr
}
