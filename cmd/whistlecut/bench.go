package main

import (
	"errors"
	"fmt"
	"os"
	"time"

	"whistlecut/app/bench"
	"whistlecut/app/desk"
	"whistlecut/app/desk/screen"
	"whistlecut/app/desk/strip"
)

type benchCmd struct {
	Exact   benchExactCmd   `cmd:"" help:"Cut windows from many kinds of film and read the first and last frame back."`
	Cut     benchCutCmd     `cmd:"" help:"Time exact clips beside ffmpeg's plain copy and a full encode of the same windows."`
	Reel    benchReelCmd    `cmd:"" help:"Time reels beside the same ones made by one graph of ffmpeg."`
	Screen  benchScreenCmd  `cmd:"" help:"Time how quickly frames come to the screen, beside ffmpeg seeking alone."`
	Desk    benchDeskCmd    `cmd:"" help:"Time the painting of the strip and the start of the window."`
	Listen  benchListenCmd  `cmd:"" help:"Hear whistles under graded conditions and print how well."`
	Collect benchCollectCmd `cmd:"" help:"Time searches in an index over hundreds of generated bouts, and the making of it."`
	Sheet   benchSheetCmd   `cmd:"" help:"Plant mistakes in official sheets and count what the check finds, with a confusion table."`
}

type benchExactCmd struct {
	Windows int    `default:"6" help:"Windows cut from each film."`
	Seed    uint64 `default:"1" help:"Another number is other windows."`
	Short   bool   `help:"Fewer and smaller films."`
}

func (c *benchExactCmd) Run(e *env) error {
	rep, err := bench.Exact(e.ctx, e.out, bench.ExactOptions{Windows: c.Windows, Seed: c.Seed, Short: c.Short})
	if err == nil && !rep.Exact() {
		return errDiffers
	}
	return err
}

type benchSheetCmd struct {
	Seeds uint64 `default:"500" help:"Sheets with one to eight mistakes each."`
	Seed  uint64 `default:"1" help:"First seed."`
}

func (c *benchSheetCmd) Run(e *env) error {
	ok, err := bench.Sheets(e.ctx, e.out, c.Seed, c.Seeds)
	if err == nil && !ok {
		return errDiffers
	}
	return err
}

type benchCutCmd struct {
	Seed   uint64 `default:"1" help:"Another number is other windows."`
	Encode int    `default:"4" help:"How many clips are encoded as a whole for comparison; the rest is scaled."`
	Short  bool   `help:"A small film and few clips."`
}

func (c *benchCutCmd) Run(e *env) error {
	_, err := bench.Cut(e.ctx, e.out, bench.CutOptions{Seed: c.Seed, Encode: c.Encode, Short: c.Short})
	return err
}

type benchReelCmd struct {
	Seed  uint64 `default:"1" help:"Another number is other clips."`
	Short bool   `help:"A small film and few clips."`
	Dir   string `help:"Where the film and the reels are made; a temporary folder when left out." placeholder:"FOLDER"`
}

func (c *benchReelCmd) Run(e *env) error {
	_, err := bench.Reel(e.ctx, e.out, bench.ReelOptions{Seed: c.Seed, Short: c.Short, Dir: c.Dir})
	return err
}

type benchScreenCmd struct {
	Seed  uint64 `default:"1" help:"Another number is other places."`
	Short bool   `help:"Small films and few tries."`
	Dir   string `help:"Where the films are made, several GB of them; a temporary folder when left out." placeholder:"FOLDER"`
}

func (c *benchScreenCmd) Run(e *env) error {
	o := bench.ScreenOptions{Seed: c.Seed, Short: c.Short, Dir: c.Dir, WindowName: "a window of the desk"}
	if !display() {
		where, stop, err := bench.VirtualScreen(e.ctx, e.app.Runner)
		switch {
		case err == nil:
			defer stop()
			os.Setenv("DISPLAY", where)
			o.WindowName += " on a virtual screen, where the processor does what a graphics card would"
		case !errors.Is(err, bench.ErrNoScreen):
			return err
		}
	}
	var rep bench.ScreenReport
	measure := func(w *screen.Painting) (err error) {
		if w != nil {
			o.Window = w
		}
		rep, err = bench.Screen(e.ctx, e.out, o)
		return err
	}
	var err error
	if display() {
		err = screen.Measure(960, 540, measure)
	} else {
		err = measure(nil)
	}
	if err == nil && !rep.Exact() {
		return errDiffers
	}
	return err
}

type benchDeskCmd struct {
	Bout string `arg:"" optional:"" help:"Bout file to start the window on; without one a small bout is filmed." type:"existingfile"`
	Runs int    `default:"5" help:"How many times the window is started."`
}

func (c *benchDeskCmd) Run(e *env) error {
	fmt.Fprintf(e.out, "The strip at 1280x158: a picture of the whole bout and of parts of it, middle and slowest tenth.\n%8s %8s %12s %19s %19s\n", "tags", "shown", "made in", "whole bout", "parts")
	for _, tags := range []int{1000, 5000, 20000} {
		if e.ctx.Err() != nil {
			return e.ctx.Err()
		}
		m, err := strip.Measure(tags, 1280, 158, strip.ThemeFonts())
		if err != nil {
			return err
		}
		ms := func(d time.Duration) string { return fmt.Sprintf("%.1f ms", float64(d.Microseconds())/1000) }
		fmt.Fprintf(e.out, "%8d %8d %12s %9s %9s %9s %9s\n", m.Tags, m.Items, ms(m.Build), ms(m.Whole), ms(m.WholeP90), ms(m.Part), ms(m.PartP90))
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	o := bench.DeskOptions{Program: self, Ready: desk.EnvReady, Bout: c.Bout, Runs: c.Runs, Display: os.Getenv("DISPLAY"), Runner: e.app.Runner}
	_, err = bench.Desk(e.ctx, e.out, o)
	return err
}

type benchListenCmd struct {
	Bouts int    `default:"3" help:"Bouts a condition."`
	Jams  int    `default:"8" help:"Jams a bout."`
	Seed  uint64 `default:"2001" help:"Of the first bout."`
	Place bool   `help:"Place the jams, too, and print how well."`

	Tuning bool `help:"Hear the whistles and rooms that the weights were fitted on instead of the others."`
}

func (c *benchListenCmd) Run(e *env) error {
	_, err := bench.Listen(e.ctx, e.out, bench.ListenOptions{Seed: c.Seed, Bouts: c.Bouts, Jams: c.Jams, Place: c.Place, Tuning: c.Tuning})
	return err
}

type benchCollectCmd struct {
	Bouts    int    `default:"300" help:"How many bouts."`
	Entries  int    `default:"334" help:"Entries a bout; the default makes 100,000 of 300 bouts."`
	Searches int    `default:"60" help:"How often each kind of search is timed."`
	Ten      bool   `help:"The same again with ten times as many bouts; that takes some minutes."`
	Seed     uint64 `default:"1" help:"Another number is other bouts."`
	Dir      string `help:"Where the index is made and left; a temporary folder when left out." placeholder:"FOLDER"`
}

func (c *benchCollectCmd) Run(e *env) error {
	o := bench.CollectOptions{Seed: c.Seed, Bouts: c.Bouts, Entries: c.Entries, Searches: c.Searches, Dir: c.Dir}
	if c.Bouts < 1 || c.Entries < 1 || c.Searches < 1 {
		return usage("--bouts, --entries and --searches are at least 1")
	}
	if _, err := bench.Collect(e.ctx, e.out, o); err != nil || !c.Ten {
		return err
	}
	o.Bouts, o.Searches = 10*o.Bouts, max(o.Searches/5, 3)
	fmt.Fprintln(e.out)
	_, err := bench.Collect(e.ctx, e.out, o)
	return err
}
