package main

import (
	"whistlecut/app/bench"
)

type benchCmd struct {
	Exact benchExactCmd `cmd:"" help:"Cut windows from many kinds of film and read the first and last frame back."`
	Sheet benchSheetCmd `cmd:"" help:"Plant mistakes in official sheets and count what the check finds, with a confusion table."`
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
