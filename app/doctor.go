package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"strings"

	"whistlecut/app/boutfile"
	"whistlecut/timeline/footage"
)

// Health is one thing the doctor looked at.
type Health struct {
	What   string `json:"what"`
	OK     bool   `json:"ok"`
	Detail string `json:"detail"`
}

// neededCodecs are the encoders that clips are made with.
var neededCodecs = []string{"libx264", "libx265", "aac"}

// Doctor looks at this machine and, when bout is not empty, at a bout file.
func (a *App) Doctor(ctx context.Context, bout string) []Health {
	var out []Health
	add := func(what string, err error, detail string) {
		if err != nil {
			detail = err.Error()
		}
		out = append(out, Health{what, err == nil, detail})
	}
	add("program", nil, fmt.Sprintf("whistlecut on %s/%s, %s, %d processors", runtime.GOOS, runtime.GOARCH, runtime.Version(), runtime.NumCPU()))
	path, err := a.Runner.Path()
	add("ffmpeg", err, path)
	probe, perr := a.Runner.ProbePath()
	add("ffprobe", perr, probe)
	if err == nil {
		list, err := a.Runner.Encoders(ctx)
		missing := []string{}
		for _, c := range neededCodecs {
			if !list[c] {
				missing = append(missing, c)
			}
		}
		if err == nil && len(missing) > 0 {
			err = fmt.Errorf("this ffmpeg lacks %s: clips that need it cannot be made; install Debian's ffmpeg package", strings.Join(missing, ", "))
		}
		add("encoders", err, strings.Join(neededCodecs, ", "))
	}
	dir := footage.CacheDir()
	err = os.MkdirAll(dir, 0o755)
	if err == nil {
		var f *os.File
		if f, err = os.CreateTemp(dir, "doctor-*"); err == nil {
			f.Close()
			err = os.Remove(f.Name())
		}
	}
	add("cache folder", err, dir)
	if bout == "" {
		return out
	}
	s, err := a.Open(bout, true)
	if err != nil {
		add("bout file", err, "")
		var f *boutfile.Fault
		if errors.As(err, &f) && f.Raw() != "" {
			add("the database says", errors.New(f.Raw()), "")
		}
		return out
	}
	defer s.Close()
	add("bout file", nil, fmt.Sprintf("%d edits, %d tags, %d jams", s.File.Log().Len(), len(s.Facts.Tags), len(s.Bout.Jams)))
	if n := len(s.File.Log().Conflicts()); n > 0 {
		add("conflicts", fmt.Errorf("%d places were changed differently by two people and wait for a decision", n), "")
	}
	add("rule set", s.Bout.Rules.Check(), s.Bout.Rules.Edition)
	for _, f := range s.Facts.FootageInOrder() {
		path, err := s.Film(f.ID)
		what := "footage " + f.Path
		if err != nil {
			add(what, err, "")
			continue
		}
		fp, err := footage.FingerprintOf(path)
		if err == nil && f.Fingerprint != "" && string(fp) != f.Fingerprint {
			err = fmt.Errorf("%s is another file than the one the tags were made on; put the original back", path)
		}
		add(what, err, Clock(f.Duration))
	}
	for _, p := range s.Bout.Problems {
		add("tags", fmt.Errorf("%s: %s", p.Kind, p.Text), "")
	}
	for _, l := range s.Bout.Loose {
		add("tag "+string(l.Tag), fmt.Errorf("%s", l.Why), "")
	}
	return out
}
