package ffmpeg

import (
	"context"
	"io"
	"os/exec"
)

// Tool runs another program, found on the PATH, under the same rules as ffmpeg:
// own process group, interrupt when ctx ends, the end of its log in errors. It
// is for measurements that ask a second opinion, such as a decoder of another
// family; the program itself works with ffmpeg alone. stdin and stdout may be
// nil.
func (r *Runner) Tool(ctx context.Context, name string, args []string, stdin io.Reader, stdout io.Writer) error {
	path, err := exec.LookPath(name)
	if err != nil {
		return newError(NotInstalled, "start", name, "it was not found on the PATH", err)
	}
	c := newChild(ctx, name, path, args, r.grace())
	c.doing, c.subject = "run", name
	c.cmd.Stdin, c.cmd.Stdout, c.cmd.Stderr = stdin, stdout, c.tail
	return c.run()
}

// HasTool reports whether a program of that name is on the PATH, for a caller
// that has to choose between names or say beforehand what is missing.
func HasTool(name string) bool {
	_, err := exec.LookPath(name)
	return err == nil
}
