// Package crash lends tests a child to kill: the test's own binary, run again as a
// writer that is stopped at any instant.
package crash

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
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

// Command starts the test's binary as a child, with more variables of its
// environment ("NAME=value").
func Command(name string, env ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(append(os.Environ(), asWhat+"="+name), env...)
	return cmd
}

// Kill runs a child and kills it after a while, counted from its start or, with
// fromFirst, from the first line it prints. It returns the lines that were printed
// whole; a child that says something is wrong fails the test.
func Kill(t *testing.T, cmd *exec.Cmd, after time.Duration, fromFirst bool) (lines []string) {
	t.Helper()
	var said strings.Builder
	cmd.Stderr = &said
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	kill := func() { time.AfterFunc(after, func() { cmd.Process.Kill() }) }
	if !fromFirst {
		kill()
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
			kill()
		}
		lines = append(lines, strings.TrimSpace(line))
	}
	cmd.Wait() // killed: always an error
	if said.Len() > 0 {
		t.Fatalf("the child failed: %s", said.String())
	}
	return lines
}
