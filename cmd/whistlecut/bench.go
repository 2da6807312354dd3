package main

import (
	"whistlecut/app/bench"
)

type benchCmd struct {
	Exact  benchExactCmd  `cmd:"" help:"Cut windows from many kinds of film and read the first and last frame back."`
	Cut    benchCutCmd    `cmd:"" help:"Time exact clips beside ffmpeg's plain copy and a full encode of the same windows."`
	Screen benchScreenCmd `cmd:"" help:"Time how quickly frames come to the screen, beside ffmpeg seeking alone."`
	Listen benchListenCmd `cmd:"" help:"Hear whistles under graded conditions and print how well."`
	Sheet  benchSheetCmd  `cmd:"" help:"Plant mistakes in official sheets and count what the check finds, with a confusion table."`
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

type benchScreenCmd struct {
	Seed  uint64 `default:"1" help:"Another number is other places."`
	Short bool   `help:"Small films and few tries."`
	Dir   string `help:"Where the films are made, several GB of them; a temporary folder when left out." placeholder:"FOLDER"`
}

func (c *benchScreenCmd) Run(e *env) error {
	rep, err := bench.Screen(e.ctx, e.out, bench.ScreenOptions{Seed: c.Seed, Short: c.Short, Dir: c.Dir})
	if err == nil && !rep.Exact() {
		return errDiffers
	}
	return err
}

type benchListenCmd struct {
	Bouts int    `default:"3" help:"Bouts a condition."`
	Jams  int    `default:"8" help:"Jams a bout."`
	Seed  uint64 `default:"2001" help:"Of the first bout."`
	Place bool   `help:"Place the jams, too, and print how well."`
}

func (c *benchListenCmd) Run(e *env) error {
	_, err := bench.Listen(e.ctx, e.out, bench.ListenOptions{Seed: c.Seed, Bouts: c.Bouts, Jams: c.Jams, Place: c.Place})
	return err
}
