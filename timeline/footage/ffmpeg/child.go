package ffmpeg

import (
	"context"
	"errors"
	"io"
	"os/exec"
	"slices"
	"sync"
	"time"
)

// child is one started or startable process with its log and its way to end.
type child struct {
	ctx           context.Context
	cmd           *exec.Cmd
	program       string
	doing         string
	subject       string
	inputs        []string // local files it reads
	tail          *tail
	progress      *progressReader // nil: none wanted
	killTimer     *time.Timer
	killTimerLock sync.Mutex
}

// child prepares ffmpeg for a job.
func (r *Runner) child(ctx context.Context, job Job) (*child, error) {
	path, err := r.Path()
	if err != nil {
		return nil, err
	}
	c := newChild(ctx, "ffmpeg", path, commandLine(job), r.grace())
	c.doing, c.subject, c.inputs = job.Doing, job.Subject, inputsOf(job.Args)
	c.cmd.Stdin = job.Stdin
	c.cmd.Stdout = job.Stdout
	var log io.Writer = c.tail
	if job.Log != nil {
		log = io.MultiWriter(c.tail, job.Log)
	}
	if job.Progress != nil {
		c.progress = newProgressReader(job.Total, job.Progress)
		if job.Stdout == nil {
			c.cmd.Stdout = c.progress
		} else {
			// Standard output carries data: progress comes among the log.
			c.progress.rest = log
			log = c.progress
		}
	}
	c.cmd.Stderr = log
	return c, nil
}

// commandLine is ffmpeg's argument list for a job: the Runner's own options
// first, as ffmpeg takes global options anywhere but reads best this way.
func commandLine(job Job) []string {
	var args []string
	args = append(args, "-hide_banner", "-nostats")
	if job.Stdin == nil {
		args = append(args, "-nostdin")
	}
	if !slices.Contains(job.Args, "-loglevel") && !slices.Contains(job.Args, "-v") {
		level := job.LogLevel
		if level == "" {
			level = "error"
		}
		args = append(args, "-loglevel", level)
	}
	if job.Progress != nil {
		pipe := "pipe:1"
		if job.Stdout != nil {
			pipe = "pipe:2"
		}
		args = append(args, "-progress", pipe, "-stats_period", "0.3")
	}
	return append(args, job.Args...)
}

// newChild builds the command: own process group, interrupt when ctx ends, kill
// of the whole group after the grace time.
func newChild(ctx context.Context, program, path string, args []string, grace time.Duration) *child {
	c := &child{ctx: ctx, program: program, tail: newTail(tailSize)}
	c.cmd = exec.CommandContext(ctx, path, args...)
	setGroup(c.cmd)
	c.cmd.Cancel = func() error {
		err := interrupt(c.cmd)
		c.killTimerLock.Lock()
		c.killTimer = time.AfterFunc(grace, func() { _ = kill(c.cmd) }) // it may have ended
		c.killTimerLock.Unlock()
		return err
	}
	// The backstop of os/exec, for pipes kept open by somebody else.
	c.cmd.WaitDelay = grace + time.Second
	return c
}

func (c *child) run() error {
	if err := c.cmd.Start(); err != nil {
		return c.startError(err)
	}
	return c.wait()
}

// wait waits for the child's end and turns it into an error with a sentence.
func (c *child) wait() error {
	err := c.cmd.Wait()
	c.killTimerLock.Lock()
	if c.killTimer != nil {
		c.killTimer.Stop()
	}
	c.killTimerLock.Unlock()
	if c.progress != nil {
		c.progress.flush()
	}
	if err == nil {
		if c.progress != nil {
			c.progress.finish()
		}
		return nil
	}
	if ctxErr := c.ctx.Err(); ctxErr != nil {
		e := newCancelled(c.doing, c.subject, ctxErr)
		e.Tail = c.tail.String()
		return e
	}
	e := explain(c.program, c.doing, c.subject, c.tail.String(), exitCode(c.cmd), err)
	if e.Kind == Truncated && !anyMP4(c.inputs) {
		// By its name ffmpeg took another kind of file for an MP4.
		e.Kind, e.Detail, e.Hint = InvalidData, notAFilm, checkPlays
	}
	return e
}

func (c *child) startError(err error) error {
	if ctxErr := c.ctx.Err(); ctxErr != nil {
		return newCancelled(c.doing, c.subject, ctxErr)
	}
	e := newError(Failed, c.doing, c.subject, c.program+" could not be started: "+causeText(err), err)
	var execErr *exec.Error
	if errors.As(err, &execErr) {
		e.Kind = NotInstalled
		e.Hint = installHint(EnvFFmpeg)
	}
	return e
}

func exitCode(cmd *exec.Cmd) int {
	if cmd.ProcessState == nil {
		return -1
	}
	return cmd.ProcessState.ExitCode()
}
