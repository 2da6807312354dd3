package reel

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/mp4"
)

// WorkFolder is where the sections of a reel lie while it is made: beside it,
// under a name that folders don't show.
func WorkFolder(out string) string {
	base := filepath.Base(out)
	stem := base[:len(base)-len(filepath.Ext(base))]
	const most = 100 // names end at 255 bytes
	if len(stem) > most {
		stem = strings.ToValidUTF8(stem[:most], "")
	}
	return filepath.Join(filepath.Dir(out), "."+stem+".sections")
}

// wish is all that decides what a section looks and sounds like. Its hash is
// the section's name.
type wish struct {
	Version int
	Format  Format
	Card    string              `json:",omitempty"` // hash of its picture
	Film    footage.Fingerprint `json:",omitempty"`
	Beside  footage.Fingerprint `json:",omitempty"`
	Shift   int64               `json:",omitempty"`
	First   int
	Last    int
	Legs    [][5]float64 `json:",omitempty"`
	Layers  []string     `json:",omitempty"`
	Mute    bool
	Quiet   time.Duration `json:",omitempty"`
	Frames  int
	Coding  string `json:",omitempty"` // of a film, which the reel takes over
	Copy    bool
}

func (w wish) name() string {
	b, err := json.Marshal(w)
	if err != nil {
		panic(err) // numbers, strings and bools only
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:12])
}

// folder is the work folder of one making.
type folder struct{ dir string }

func (f folder) picture(name string) string { return filepath.Join(f.dir, name+".mp4") }
func (f folder) sound(name string) string   { return filepath.Join(f.dir, name+".pcm") }
func (f folder) note(name string) string    { return filepath.Join(f.dir, name+".json") }

// openFolder makes the work folder; without resume what an earlier try left is
// removed.
func openFolder(out string, resume bool) (folder, error) {
	f := folder{WorkFolder(out)}
	if !resume {
		if err := os.RemoveAll(f.dir); err != nil {
			return f, err
		}
	}
	err := os.Mkdir(f.dir, 0o777)
	if errors.Is(err, fs.ErrExist) {
		err = nil
	}
	if errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("its folder does not exist; make the folder or choose another one (%w)", err)
	}
	return f, err
}

// close removes the folder, or of a kept one what is unfinished.
func (f folder) close(keep bool) {
	if !keep {
		_ = os.RemoveAll(f.dir) // best effort: what matters is said already
		return
	}
	list, err := os.ReadDir(f.dir)
	if err != nil {
		return // there is nothing to tidy
	}
	whole := false
	for _, e := range list {
		name := e.Name()
		stem := name[:len(name)-len(filepath.Ext(name))]
		if _, err := os.Stat(f.note(stem)); err != nil || e.IsDir() || strings.HasPrefix(name, ".") {
			_ = os.RemoveAll(filepath.Join(f.dir, name)) // best effort
			continue
		}
		whole = true
	}
	if !whole {
		_ = os.Remove(f.dir) // best effort: it is empty
	}
}

// made is what is written down about a finished section. It is written last.
type made struct {
	Method  Method
	Why     string
	Frames  int
	Encoded int
	Notes   []string
	Bytes   int64 // of the picture's file
}

// kept reads what an earlier try wrote about a section; ok is false if the
// section is not there whole.
func (f folder) kept(name string, form Format, frames int) (m made, ok bool) {
	b, err := os.ReadFile(f.note(name))
	if err != nil || json.Unmarshal(b, &m) != nil || m.Frames != frames {
		return made{}, false
	}
	st, err := os.Stat(f.picture(name))
	if err != nil || st.Size() != m.Bytes {
		return made{}, false
	}
	if st, err = os.Stat(f.sound(name)); err != nil || st.Size() != sectionSamples(form, frames)*sampleBytes {
		return made{}, false
	}
	film, err := mp4.Open(f.picture(name))
	if err != nil || film.Short != nil || film.Video() == nil {
		return made{}, false
	}
	return m, true
}

// finish writes a section down.
func (f folder) finish(name string, m made) error {
	st, err := os.Stat(f.picture(name))
	if err != nil {
		return err
	}
	m.Bytes = st.Size()
	b, err := json.Marshal(m)
	if err != nil {
		return err
	}
	return os.WriteFile(f.note(name), b, 0o666)
}

// explained gives the reason of a broken file that was just written here:
// ffmpeg may end well on a full disk. The file must still be there.
func (f folder) explained(err error) error {
	if err == nil {
		return nil
	}
	probe := filepath.Join(f.dir, ".room")
	defer os.Remove(probe)
	if e := os.WriteFile(probe, make([]byte, 256<<10), 0o666); errors.Is(e, syscall.ENOSPC) {
		return e
	}
	return err
}
