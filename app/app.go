// Package app holds the use cases that the window and the command line share:
// stage a demo bout, start a bout, read a sheet, check, find, cut, merge. It
// knows no window. Start at App and Session.
package app

import (
	"os/user"

	"whistlecut/timeline/footage/ffmpeg"
)

// App carries what every use case needs.
type App struct {
	// Author is kept beside every edit; the account's name when empty.
	Author string
	// Progress, when set, hears how long work gets on; it may be called from several goroutines.
	Progress func(Progress)
	Runner   *ffmpeg.Runner
}

// Progress is how far one piece of long work is.
type Progress struct {
	Doing    string  // "filming", "cutting"
	Fraction float64 // 0..1
}

// New returns an App that works for author with the ffmpeg of this machine.
func New(author string) *App {
	if author == "" {
		if u, err := user.Current(); err == nil {
			author = u.Name
			if author == "" {
				author = u.Username
			}
		}
	}
	if author == "" {
		author = "somebody"
	}
	return &App{Author: author, Runner: ffmpeg.Default()}
}

// Step tells how far one piece of work is, as a fraction from 0 to 1.
func (a *App) Step(doing string) func(float64) {
	if a.Progress == nil {
		return func(float64) {}
	}
	return func(f float64) { a.Progress(Progress{Doing: doing, Fraction: f}) }
}
