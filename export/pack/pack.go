package pack

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// Clip is one film of a pack, ready but for its size.
type Clip struct {
	File    string        // path of an MP4 file (H.264, AAC)
	Name    string        // of its file in the pack, without an ending
	Title   string        // "Period 1, jam 7"
	Caption string        // "Penalty B, back block"
	Facts   []string      // short lines under it
	Length  time.Duration // of the film
	Height  int           // of its picture in pixels
}

// Pack is what is to be made.
type Pack struct {
	Dir      string // must not be there yet, or hold an older pack
	Title    string
	Under    string   // a line under the title
	Language string   // of the page, ISO 639-1
	Words    Words    // of the page
	Lines    []string // what is said before the clips
	Note     string   // the caution at the end
	Clips    []Clip
	// Files are put beside the page and linked from it, such as a printed page.
	Files []File
	// Limit is the size of everything together in bytes; 0 means no limit.
	Limit int64
	// Single writes one page that holds the films itself, for messengers that
	// hand over one file at a time; it is a third larger.
	Single bool
	// Mute leaves the sound out of all clips.
	Mute     bool
	Progress func(fraction float64)
}

// File is a file beside the page.
type File struct{ Path, Name, Title string }

// Words are the few words of the page itself.
type Words struct{ Play, Next string }

// Made says what a pack holds.
type Made struct {
	Page  string
	Bytes int64
	Clips []MadeClip
}

// MadeClip is one clip of a pack.
type MadeClip struct {
	File   string // relative to the pack's folder, with slashes
	Bytes  int64
	Shrunk bool
	Height int
}

// marker tells a pack's folder from any other, so that no folder of somebody is
// replaced.
const marker = ".whistlecut-pack"

// leastRate is the slowest picture that is still worth looking at, in bits a
// second at 360 lines (from trying; a skater of the far team is a few blocks
// below it).
const leastRate = 250_000

// Make writes a pack. The folder appears under its name when it is whole; after
// an error or a cancel an older pack is as it was and nothing else is left.
func Make(ctx context.Context, runner *ffmpeg.Runner, p Pack) (Made, error) {
	if len(p.Clips) == 0 {
		return Made{}, errors.New("cannot make a pack: there is no clip to put into it")
	}
	if err := replaceable(p.Dir); err != nil {
		return Made{}, err
	}
	parent := filepath.Dir(filepath.Clean(p.Dir))
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return Made{}, fmt.Errorf("cannot make the pack: %w", err)
	}
	temp, err := os.MkdirTemp(parent, ".pack-*")
	if err != nil {
		return Made{}, fmt.Errorf("cannot make the pack: %w", err)
	}
	defer os.RemoveAll(temp)
	made, err := fillFolder(ctx, runner, p, temp)
	if err != nil {
		return Made{}, err
	}
	if err := swap(temp, p.Dir); err != nil {
		return Made{}, fmt.Errorf("cannot put the pack in its place: %w", err)
	}
	made.Page = filepath.Join(p.Dir, pageName)
	return made, nil
}

const pageName = "page.html"

// replaceable says whether the folder may be written.
func replaceable(dir string) error {
	list, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("cannot make the pack: %w", err)
	case len(list) == 0:
		return nil
	}
	if _, err := os.Stat(filepath.Join(dir, marker)); err != nil {
		return fmt.Errorf("cannot make the pack in %s: other files lie there; choose a folder of its own", dir)
	}
	return nil
}

// swap puts the new folder in the place of an older pack.
func swap(temp, dir string) error {
	old := ""
	if _, err := os.Stat(dir); err == nil {
		old = temp + "-old"
		if err := os.Rename(dir, old); err != nil {
			return err
		}
	}
	if err := os.Chmod(temp, 0o755); err != nil {
		return err
	}
	if err := os.Rename(temp, dir); err != nil {
		if old != "" {
			_ = os.Rename(old, dir) // back to what was
		}
		return err
	}
	if old != "" {
		_ = os.RemoveAll(old) // the new one is in its place already
	}
	return nil
}

func fillFolder(ctx context.Context, runner *ffmpeg.Runner, p Pack, dir string) (Made, error) {
	var made Made
	if err := os.WriteFile(filepath.Join(dir, marker), nil, 0o644); err != nil {
		return made, err
	}
	budget, err := p.budget()
	if err != nil {
		return made, err
	}
	var total, done time.Duration
	for _, c := range p.Clips {
		total += c.Length
	}
	films := "films"
	if err := os.Mkdir(filepath.Join(dir, films), 0o755); err != nil {
		return made, err
	}
	var page page
	for i, c := range p.Clips {
		name := fmt.Sprintf("%s/%02d %s.mp4", films, i+1, c.Name)
		out := filepath.Join(dir, filepath.FromSlash(name))
		room := int64(0)
		if budget > 0 {
			room = max(int64(float64(budget)*c.Length.Seconds()/total.Seconds()), 1)
		}
		m, err := fit(ctx, runner, c, out, room, p.Mute, func(f float64) {
			if p.Progress != nil && total > 0 {
				p.Progress((done.Seconds() + f*c.Length.Seconds()) / total.Seconds())
			}
		})
		if err != nil {
			return made, err
		}
		done += c.Length
		m.File = name
		still, err := still(ctx, runner, out)
		if err != nil {
			return made, err
		}
		made.Clips = append(made.Clips, m)
		page.Clips = append(page.Clips, pageClip{Clip: c, Src: name, Still: still, Path: out})
	}
	for _, f := range p.Files {
		if err := copyFile(f.Path, filepath.Join(dir, f.Name)); err != nil {
			return made, fmt.Errorf("cannot put %s into the pack: %w", filepath.Base(f.Path), err)
		}
	}
	if err := page.write(filepath.Join(dir, pageName), p); err != nil {
		return made, fmt.Errorf("cannot write the page of the pack: %w", err)
	}
	if p.Single {
		if err := os.RemoveAll(filepath.Join(dir, films)); err != nil {
			return made, err
		}
	}
	made.Bytes, err = size(dir)
	if err == nil && p.Limit > 0 && made.Bytes > p.Limit {
		err = fmt.Errorf("the pack came out at %s, over the limit of %s; take fewer clips or a larger limit", megabytes(made.Bytes), megabytes(p.Limit))
	}
	if p.Progress != nil {
		p.Progress(1)
	}
	return made, err
}

// budget is what the films may take together, after page and files.
func (p Pack) budget() (int64, error) {
	if p.Limit <= 0 {
		return 0, nil
	}
	left := p.Limit - 20_000 - int64(len(p.Clips))*stillRoom
	for _, f := range p.Files {
		st, err := os.Stat(f.Path)
		if err != nil {
			return 0, fmt.Errorf("cannot put %s into the pack: %w", filepath.Base(f.Path), err)
		}
		left -= st.Size()
	}
	if p.Single {
		left = left * 3 / 4 // three bytes are written as four letters
	}
	left = left * 98 / 100
	var sum time.Duration
	for _, c := range p.Clips {
		sum += c.Length
	}
	if need := int64(sum.Seconds() * (leastRate + soundRate) / 8); left < need {
		return 0, fmt.Errorf("%d clips of %s together do not fit into %s and still be worth looking at; about %s would do, or fewer clips",
			len(p.Clips), sum.Round(time.Second), megabytes(p.Limit), megabytes(need*11/10+p.Limit-left))
	}
	return left, nil
}

func megabytes(n int64) string { return fmt.Sprintf("%.1f MB", float64(n)/1e6) }

func size(dir string) (sum int64, err error) {
	err = filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			sum += info.Size()
		}
		return err
	})
	return sum, err
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.Create(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if e := out.Close(); err == nil {
		err = e
	}
	return err
}
