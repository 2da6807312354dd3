package main

import (
	"errors"

	"whistlecut/app"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

type packCmd struct {
	Bout string   `arg:"" help:"The bout file."`
	Who  []string `help:"The skater, as \"home 052\"; repeat for several, each gets a pack of her own." placeholder:"SIDE NUMBER"`
	All  string   `enum:"home,away,both," default:"" help:"Every skater of home, away or both who has something to see and has agreed." placeholder:"SIDE"`
	Into string   `required:"" help:"Folder for the packs; each is a folder in it." placeholder:"DIR"`
	Kind []string `help:"Only these kinds of tag; without it her penalties and the jams she jammed." placeholder:"KIND"`

	Limit    string `help:"Size of one pack, as 64MB; a messenger says what it takes." placeholder:"SIZE"`
	Single   bool   `help:"One page that holds the films itself, for messengers that hand over one file."`
	Language string `enum:"en,es,fr,de" default:"en" help:"Language of captions and page: en, es, fr or de." placeholder:"CODE"`
	Mute     bool   `help:"Leave the sound out."`
	Anyway   bool   `help:"Also for a skater who is a minor or has not agreed; you answer for it."`
}

func (packCmd) Help() string {
	return `A pack is a folder with one skater's clips and a page that plays them on a phone
without a network. Skaters whom the roster marks as minors or who have not agreed
are left out. What drawings hide is hidden in the pack.

Examples:
  whistlecut pack final.bout --who "home 052" --into packs --limit 64MB
  whistlecut pack final.bout --all home --into packs --kind penalty --language es`
}

type packJSON struct {
	Skater    string   `json:"skater"`
	Page      string   `json:"page,omitempty"`
	Bytes     int64    `json:"bytes,omitempty"`
	Clips     []string `json:"clips,omitempty"`
	NotShot   int      `json:"not_on_film,omitempty"`
	LeftOut   string   `json:"left_out,omitempty"`
	Reminders []string `json:"reminders,omitempty"`
}

func (c *packCmd) Run(e *env) error {
	if len(c.Who) == 0 && c.All == "" {
		return usage("say whose pack: --who \"home 052\", or --all home")
	}
	limit, err := app.ParseSize(c.Limit)
	if err != nil {
		return usage("%w", err)
	}
	s, err := e.app.Open(c.Bout, true)
	if err != nil {
		return err
	}
	defer s.Close()
	var kinds []timeline.Kind
	for _, k := range c.Kind {
		sel, err := selectFlags{Kind: []string{k}}.selection(s)
		if err != nil {
			return err
		}
		kinds = append(kinds, sel.Kinds...)
	}
	var list []timeline.SkaterRef
	for _, w := range c.Who {
		ref, err := parseSkater(w)
		if err != nil {
			return err
		}
		list = append(list, ref)
	}
	named := len(list)
	for _, side := range timeline.Sides {
		if c.All == "both" || c.All == side.String() {
			for _, k := range s.Facts.Teams[side.Index()].Roster {
				list = append(list, timeline.SkaterRef{Side: side, Number: k.Number})
			}
		}
	}
	var out []packJSON
	reminders := []string{}
	for i, ref := range list {
		x, err := c.one(e, s, ref, kinds, limit)
		switch {
		case errors.Is(err, reels.ErrNoConsent) && i >= named:
			x.LeftOut = "a minor, or she has not agreed"
		case errors.Is(err, errNothing) && i >= named:
			continue // a skater of the bench has no pack
		case err != nil:
			return err
		}
		out = append(out, x)
		reminders = append(reminders, x.Reminders...)
		if e.asJSON {
			continue
		}
		if x.LeftOut != "" {
			e.printf("%s: left out, %s\n", x.Skater, x.LeftOut)
			continue
		}
		e.printf("%s: %s, %s, %s\n", x.Skater, count(len(x.Clips), "clip"), app.SizeText(x.Bytes), x.Page)
		if x.NotShot > 0 {
			e.printf("  %s tagged and not on film\n", count(x.NotShot, "moment"))
		}
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"packs": out})
	}
	seen := map[string]bool{}
	for _, r := range reminders {
		if !seen[r] {
			e.printf("%s\n", r)
		}
		seen[r] = true
	}
	return nil
}

var errNothing = errors.New("nothing to pack")

func (c *packCmd) one(e *env, s *app.Session, ref timeline.SkaterRef, kinds []timeline.Kind, limit int64) (packJSON, error) {
	x := packJSON{Skater: ref.String()}
	o := reels.PackOptions{Language: c.Language, Margins: app.DefaultMargins(), Limit: limit, Single: c.Single, Numbers: true, Mute: c.Mute, Anyway: c.Anyway}
	o.Dir = reels.PackDir(c.Into, ref)
	if len(kinds) > 0 {
		o.Moments = timeline.Find(s.Bout, s.Facts, timeline.Selection{Kinds: kinds, Skaters: []timeline.SkaterRef{ref}})
	} else {
		o.Moments = reels.PackMoments(s, ref)
	}
	if len(o.Moments) == 0 {
		return x, errors.Join(errNothing, errors.New("nothing of "+ref.String()+" is tagged that could be packed"))
	}
	made, err := reels.Pack(e.ctx, e.app, s, ref, o)
	if err != nil {
		return x, err
	}
	x.Page, x.Bytes, x.NotShot, x.Reminders = made.Page, made.Bytes, len(made.NotShot), made.Reminders
	for _, k := range made.Clips {
		x.Clips = append(x.Clips, k.File)
	}
	return x, nil
}
