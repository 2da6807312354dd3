package main

import (
	"errors"
	"os"
	"runtime"

	"whistlecut/app/desk"
)

// deskCmd opens the window.
type deskCmd struct {
	Bout string `arg:"" optional:"" help:"Bout file to open; without one the first page." type:"path"`
	Tour bool   `help:"Show the tour of the desk, even if it was seen."`
}

func (c *deskCmd) Run(e *env) error {
	if !display() {
		return errors.New("there is no display to open a window on; all that the desk does has a command, see: whistlecut --help")
	}
	a := *e.app
	a.Progress = nil // the window shows its own
	return desk.Run(&a, desk.Options{Bout: c.Bout, Tour: c.Tour})
}

// display reports whether a window can be shown.
func display() bool {
	if runtime.GOOS != "linux" {
		return true
	}
	return os.Getenv("DISPLAY") != ""
}
