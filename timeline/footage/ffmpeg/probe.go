package ffmpeg

import (
	"context"
	"io"
)

// Probe runs ffprobe with the given arguments, with "-hide_banner -loglevel
// error" before them, and returns its standard output. The last argument is
// taken as the file in errors. It takes no slot of the parallel jobs.
func (r *Runner) Probe(ctx context.Context, args ...string) ([]byte, error) {
	var buf limitedBuffer
	if err := r.ProbeTo(ctx, &buf, args...); err != nil {
		return nil, err
	}
	if buf.over {
		return nil, newError(Failed, "read the properties of", subjectOf(args), "ffprobe answered with more than "+maxOutputText, nil)
	}
	return buf.Bytes(), nil
}

// ProbeTo is Probe for long answers: they are written to w as they come.
func (r *Runner) ProbeTo(ctx context.Context, w io.Writer, args ...string) error {
	path, err := r.ProbePath()
	if err != nil {
		return err
	}
	full := append([]string{"-hide_banner", "-loglevel", "error"}, args...)
	c := newChild(ctx, "ffprobe", path, full, r.grace())
	c.doing, c.subject = "read the properties of", subjectOf(args)
	c.inputs = []string{c.subject}
	c.cmd.Stdout = w
	c.cmd.Stderr = c.tail
	return c.run()
}

func subjectOf(args []string) string {
	if len(args) == 0 {
		return ""
	}
	return plainPath(args[len(args)-1])
}
