package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"whistlecut/app"
	"whistlecut/app/collection"
)

type collectCmd struct {
	Index string `help:"The index file; without it the usual one in your data folder." placeholder:"FILE"`

	Add     collectAddCmd     `cmd:"" help:"Take bouts into the index: files, or folders that are searched for them."`
	Update  collectUpdateCmd  `cmd:"" help:"Look at all bouts of the index again and read those that changed."`
	Find    collectFindCmd    `cmd:"" help:"Search all bouts: penalties, star passes, jams, notes, marks, examples, situations."`
	List    collectListCmd    `cmd:"" help:"List the bouts of the index and how each was found."`
	Forget  collectForgetCmd  `cmd:"" help:"Drop bouts from the index; the bout files stay as they are."`
	Rebuild collectRebuildCmd `cmd:"" help:"Read all bouts of the index again, changed or not."`
}

func (collectCmd) Help() string {
	return `The index lies on this machine alone and is made of the bout files, which are only
read. It answers while films, or the bout files themselves, are away.

Examples:
  whistlecut collect add ~/bouts
  whistlecut collect update
  whistlecut collect find --kind penalty --code B --skater "Ada Lace" --season 2026
  whistlecut collect find "relative position" --verdict no --differing
  whistlecut collect find --kind example --rule 4.1 --difficulty 3-5 --sort hardest`
}

// open opens the index and says what happened to it.
func (c *collectCmd) open(e *env) (*collection.Index, error) {
	path := c.Index
	if path == "" {
		path = collection.DefaultPath()
	}
	x, err := collection.Open(path)
	if err != nil {
		return nil, err
	}
	for _, n := range x.Notices() {
		fmt.Fprintf(e.err, "whistlecut: %s\n", n)
	}
	return x, nil
}

// pictureFlags say which pictures are made after bouts were read.
type pictureFlags struct {
	NoStills  bool   `help:"Take no stills of the examples."`
	Previews  bool   `help:"Make a small silent film of each example, too."`
	Sensitive bool   `help:"Take pictures of sensitive examples, too."`
	Room      string `default:"500MB" help:"How much room all pictures may take; the oldest go first." placeholder:"SIZE"`
}

func (p pictureFlags) options() (collection.PictureOptions, error) {
	room, err := app.ParseSize(p.Room)
	if err != nil {
		return collection.PictureOptions{}, usage("--room: %w", err)
	}
	return collection.PictureOptions{Previews: p.Previews, Sensitive: p.Sensitive, Bytes: room}, nil
}

type collectAddCmd struct {
	Paths []string `arg:"" help:"Bout files, or folders: all bouts in them and in the folders below." placeholder:"PATH"`
	pictureFlags
}

func (c *collectAddCmd) Run(e *env, all *collectCmd) error {
	return all.look(e, c.pictureFlags, func(x *collection.Index) (collection.Report, error) { return x.Add(e.ctx, e.app, c.Paths...) })
}

type collectUpdateCmd struct {
	pictureFlags
	DeletePictures bool `help:"Delete all stills and previews first."`
}

func (c *collectUpdateCmd) Run(e *env, all *collectCmd) error {
	return all.look(e, c.pictureFlags, func(x *collection.Index) (collection.Report, error) {
		if c.DeletePictures {
			if _, err := x.DeletePictures(); err != nil {
				return collection.Report{}, err
			}
		}
		return x.Update(e.ctx, e.app)
	})
}

type collectRebuildCmd struct{ pictureFlags }

func (collectRebuildCmd) Help() string {
	return `What was read of bouts that are away is kept. An index that is damaged is set aside
and made anew; then what it knew of bouts that are away comes back with them.`
}

func (c *collectRebuildCmd) Run(e *env, all *collectCmd) error {
	return all.look(e, c.pictureFlags, func(x *collection.Index) (collection.Report, error) { return x.Rebuild(e.ctx, e.app) })
}

// look reads bouts and then takes pictures, and tells of both. Bouts that could
// not be read are a failure, once the others are done.
func (c *collectCmd) look(e *env, p pictureFlags, read func(*collection.Index) (collection.Report, error)) (err error) {
	o, err := p.options()
	if err != nil {
		return err
	}
	x, err := c.open(e)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, x.Close()) }()
	told := len(x.Notices())
	r, err := read(x)
	for _, n := range x.Notices()[told:] {
		fmt.Fprintf(e.err, "whistlecut: %s\n", n)
	}
	if err != nil {
		return err
	}
	var pictures *collection.PictureReport
	if !p.NoStills {
		got, err := x.MakePictures(e.ctx, e.app, o)
		if err != nil {
			return err
		}
		pictures = &got
	}
	if e.asJSON {
		err = e.printJSON(struct {
			Index string `json:"index"`
			collection.Report
			Pictures *collection.PictureReport `json:"pictures,omitempty"`
		}{x.Path(), r, pictures})
	} else {
		printLook(e, r, pictures)
	}
	if err == nil && len(r.Faults) > 0 {
		err = fmt.Errorf("%s could not be read; the reason stands above, and what was indexed of it before stays", count(len(r.Faults), "path"))
	}
	return err
}

func printLook(e *env, r collection.Report, p *collection.PictureReport) {
	for _, path := range r.Indexed {
		e.printf("read %s\n", path)
	}
	for _, path := range r.Away {
		e.printf("away %s\n", path)
	}
	for _, f := range r.Faults {
		e.printf("cannot read %s: %s\n", f.Path, f.Reason)
	}
	e.printf("%s read, %d unchanged, %d away, %d not readable\n", count(len(r.Indexed), "bout"), r.Unchanged, len(r.Away), len(r.Faults))
	if p == nil {
		return
	}
	for _, n := range p.Notices {
		e.printf("%s\n", n)
	}
	if p.Made+p.Missing > 0 {
		e.printf("%s made, %s without a still\n", count(p.Made, "picture"), count(p.Missing, "example"))
	}
}

type collectListCmd struct{}

func (c *collectListCmd) Run(e *env, all *collectCmd) error {
	x, err := all.open(e)
	if err != nil {
		return err
	}
	defer x.Close()
	list, err := x.Bouts(e.ctx)
	if err != nil {
		return err
	}
	if e.asJSON {
		if list == nil {
			list = []collection.Bout{}
		}
		return e.printJSON(map[string]any{"index": x.Path(), "bouts": list})
	}
	if len(list) == 0 {
		e.printf("the collection is empty; take bouts in with: whistlecut collect add FOLDER\n")
		return nil
	}
	rows := [][]string{{"date", "title", "edition", "entries", "examples", "file", "path"}}
	for _, b := range list {
		state := string(b.State)
		if b.CopyOf != "" {
			state += ", copy of " + filepath.Base(b.CopyOf)
		}
		rows = append(rows, []string{b.Date, b.Title, b.Edition, fmt.Sprint(b.Entries), fmt.Sprint(b.Examples), state, b.Path})
	}
	e.table(rows)
	for _, b := range list {
		if b.Reason != "" {
			e.printf("%s: %s\n", b.Path, b.Reason)
		}
	}
	return nil
}

type collectForgetCmd struct {
	Paths []string `arg:"" optional:"" help:"Bout files, or folders for all bouts in and below them." placeholder:"PATH"`
	Away  bool     `help:"All bouts whose files are away."`
}

func (c *collectForgetCmd) Run(e *env, all *collectCmd) error {
	if len(c.Paths) == 0 && !c.Away {
		return usage("say which bouts: name files or folders, or --away for all whose files are away")
	}
	x, err := all.open(e)
	if err != nil {
		return err
	}
	defer x.Close()
	paths := c.Paths
	if c.Away {
		list, err := x.Bouts(e.ctx)
		if err != nil {
			return err
		}
		for _, b := range list {
			if b.State == collection.Away {
				paths = append(paths, b.Path)
			}
		}
	}
	gone, err := x.Forget(e.ctx, paths...)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"forgotten": append([]string{}, gone...)})
	}
	for _, p := range gone {
		e.printf("forgotten: %s\n", p)
	}
	if len(gone) == 0 && !c.Away {
		return fmt.Errorf("the collection knows no bout at %s; whistlecut collect list shows those it knows", strings.Join(c.Paths, ", "))
	}
	e.printf("%s forgotten; the files stay as they are\n", count(len(gone), "bout"))
	return nil
}
