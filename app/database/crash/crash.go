// Package crash lends tests a child to kill: the test's own binary, run again as a
// writer that is stopped at any instant.
package crash

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"
)

// asWhat is the variable that says as what the binary runs; without it, as a test.
const asWhat = "WHISTLECUT_CHILD"

var children = map[string]func() int{}

// Child gives a child its name; do returns its exit status. For an init function.
func Child(name string, do func() int) { children[name] = do }

// Main is for TestMain: it runs a child where the binary was started as one, else
// the tests.
func Main(m *testing.M) {
	if name := os.Getenv(asWhat); name != "" {
		child, ok := children[name]
		if !ok {
			fmt.Fprintln(os.Stderr, "no such child:", name)
			os.Exit(64)
		}
		os.Exit(child())
	}
	os.Exit(m.Run())
}

// Env is the environment in which the test's binary runs as a child, with more
// variables ("NAME=value").
func Env(name string, more ...string) []string {
	return append(append(os.Environ(), asWhat+"="+name), more...)
}

// Process is a child that was not started yet, such as an *exec.Cmd. Only tests start
// processes besides ffmpeg, so they make it.
type Process interface {
	StdoutPipe() (io.ReadCloser, error)
	StderrPipe() (io.ReadCloser, error)
	Start() error
	Wait() error
}

// Kill runs a child and has it killed after a while, counted from its start or, with
// fromFirst, from the first line it prints. It returns the lines that were printed
// whole; a child that says something is wrong fails the test.
func Kill(t *testing.T, cmd Process, kill func(), after time.Duration, fromFirst bool) (lines []string) {
	t.Helper()
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	wrong, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	said := make(chan string, 1)
	go func() {
		b, _ := io.ReadAll(wrong) // ends with the child
		said <- string(b)
	}()
	if !fromFirst {
		time.AfterFunc(after, kill)
	}
	in := bufio.NewReader(out)
	for {
		line, err := in.ReadString('\n')
		if errors.Is(err, io.EOF) {
			break // what has no line end was cut by the kill
		}
		if err != nil {
			t.Fatal(err)
		}
		if fromFirst && len(lines) == 0 {
			time.AfterFunc(after, kill)
		}
		lines = append(lines, strings.TrimSpace(line))
	}
	text := <-said
	cmd.Wait() // killed: always an error
	if text != "" {
		t.Fatalf("the child failed: %s", text)
	}
	return lines
}
