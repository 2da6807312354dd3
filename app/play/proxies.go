package play

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/adrg/xdg"

	"whistlecut/timeline"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// Range is a part of a film: film time From to To.
type Range struct {
	Footage  timeline.ID
	From, To time.Duration
}

// Proxies are light copies of films: every frame a small picture by itself, so
// that any frame is shown within milliseconds, in both directions. They are
// kept in a folder in blocks of 20 s, by the films' fingerprints. A Proxies may
// be used by several goroutines and players.
type Proxies struct {
	runner *ffmpeg.Runner
	dir    string
	limit  atomic.Int64

	mu    sync.Mutex
	films map[footage.Fingerprint][]*light // known blocks, opened
	read  map[footage.Fingerprint]bool     // folder was looked through
	hold  atomic.Int32                     // players that want the machine to themselves
}

// ErrFull is the end of Prepare when the limit is reached.
var ErrFull = errors.New("no room for more light copies")

// NewProxies keeps light copies in a folder, "" being whistlecut/screen in the
// user's cache folder. limit bounds them in bytes; 0 is DefaultCacheBytes. A
// nil runner is ffmpeg.Default().
func NewProxies(runner *ffmpeg.Runner, dir string, limit int64) *Proxies {
	if runner == nil {
		runner = ffmpeg.Default()
	}
	p := &Proxies{
		runner: runner, dir: cacheFolder(dir),
		films: map[footage.Fingerprint][]*light{}, read: map[footage.Fingerprint]bool{},
	}
	p.SetLimit(limit)
	return p
}

// SetLimit changes the bound, bytes; 0 is DefaultCacheBytes. What is there
// already gives way when the next block is made.
func (p *Proxies) SetLimit(limit int64) {
	if limit <= 0 {
		limit = DefaultCacheBytes
	}
	p.limit.Store(limit)
}

func cacheFolder(dir string) string {
	if dir == "" {
		return filepath.Join(xdg.CacheHome, "whistlecut", "screen")
	}
	return dir
}

func (p *Proxies) folder(fp footage.Fingerprint) string {
	return filepath.Join(p.dir, "light", string(fp))
}

const lightExt = ".light"

// Prepare makes the light copies of films, the first ranges before the rest,
// and returns when all are made. It is meant to run in the background: while a
// player looks for a frame it waits. progress gets the film time that is
// prepared and the whole; it may be nil. Films that can't be read are left out;
// the first of their errors is returned at the end. When the limit is reached,
// copies of other films give way, the oldest first; after that it ends with
// ErrFull and what is prepared can be used.
func (p *Proxies) Prepare(ctx context.Context, films []Film, first []Range, progress func(done, total time.Duration)) error {
	var l line
	var failed error
	for _, f := range films {
		s := &stretch{Film: f, settled: true}
		file, err := openFilm(ctx, p.runner, p.dir, f.Path)
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			failed = errors.Join(failed, err)
			s.state = Broken
		} else {
			s.file = file
			s.settle(file.Index)
		}
		l = append(l, s)
	}
	blocks := planBlocks(l, first)
	var done, total time.Duration
	length := func(b block) time.Duration { x := l[b.film].index; return x.Time(b.to) - x.Time(b.from) }
	for _, b := range blocks {
		total += length(b)
	}
	for _, b := range blocks {
		file := l[b.film].file
		if p.find(file.Fingerprint, b.from) == nil {
			if err := p.make(ctx, l, b); err != nil {
				if ctx.Err() != nil {
					return ctx.Err()
				}
				if errors.Is(err, ErrFull) || errors.Is(err, ffmpeg.ErrNoSpace) {
					return err
				}
				failed = errors.Join(failed, err)
				continue
			}
		}
		done += length(b)
		if progress != nil {
			progress(done, total)
		}
	}
	return failed
}

// make writes one block.
func (p *Proxies) make(ctx context.Context, l line, b block) error {
	file := l[b.film].file
	if err := p.makeRoom(l); err != nil {
		return err
	}
	dir := p.folder(file.Fingerprint)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	w, h := lightSize(file.Info.Video.Width, file.Info.Video.Height)
	target := filepath.Join(dir, fmt.Sprintf("%09d%s", b.from, lightExt))
	err := ffmpeg.Whole(target, func(temp string) error {
		s, err := file.JPEGs(ctx, b.from, b.to, w, h, lightQuality)
		if err != nil {
			return err
		}
		defer s.Close()
		out, err := os.Create(temp)
		if err != nil {
			return err
		}
		var buf []byte
		err = writeLight(out, b.from, w, h, func() ([]byte, error) {
			if err := p.standBack(ctx); err != nil {
				return nil, err
			}
			var err error
			buf, _, err = s.Next(buf[:0])
			return buf, err
		})
		return errors.Join(err, out.Close())
	})
	if err != nil {
		return err
	}
	f, err := openLight(target)
	if err != nil {
		return err
	}
	p.mu.Lock()
	p.films[file.Fingerprint] = append(p.films[file.Fingerprint], f)
	p.mu.Unlock()
	return nil
}

// lightQuality is ffmpeg's scale from 2 to 31: about 45 kB a picture of 960x540
// of noisy film.
const lightQuality = 5

// standBack waits while a player wants the machine to itself.
func (p *Proxies) standBack(ctx context.Context) error {
	for p.hold.Load() > 0 {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
	return ctx.Err()
}

// find is the block that holds a frame, or nil.
func (p *Proxies) find(fp footage.Fingerprint, frame int) *light {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.read[fp] {
		p.read[fp] = true
		entries, _ := os.ReadDir(p.folder(fp)) // none: nothing is prepared
		for _, e := range entries {
			if !strings.HasSuffix(e.Name(), lightExt) || strings.HasPrefix(e.Name(), ".") {
				continue
			}
			path := filepath.Join(p.folder(fp), e.Name())
			if f, err := openLight(path); err == nil {
				p.films[fp] = append(p.films[fp], f)
			} else {
				_ = os.Remove(path) // broken: to be made anew
			}
		}
	}
	for _, f := range p.films[fp] {
		if f.has(frame) {
			return f
		}
	}
	return nil
}

// blockFile is one light file on the disk.
type blockFile struct {
	path string
	size int64
	time time.Time
}

func (p *Proxies) onDisk() (list []blockFile, total int64) {
	_ = filepath.WalkDir(p.dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return nil // what can't be read counts nothing
		}
		if st, err := d.Info(); err == nil {
			total += st.Size()
			if strings.HasSuffix(path, lightExt) {
				list = append(list, blockFile{path, st.Size(), st.ModTime()})
			}
		}
		return nil
	})
	slices.SortFunc(list, func(a, b blockFile) int { return a.time.Compare(b.time) })
	return list, total
}

// makeRoom removes the oldest blocks of films that are not on the line until
// there is room for one more.
func (p *Proxies) makeRoom(l line) error {
	list, total := p.onDisk()
	limit := p.limit.Load()
	need := int64(1 << 20)
	if len(list) > 0 {
		need = list[len(list)-1].size
	}
	for _, f := range list {
		if total+need <= limit {
			break
		}
		fp := footage.Fingerprint(filepath.Base(filepath.Dir(f.path)))
		if slices.ContainsFunc(l, func(s *stretch) bool { return s.file != nil && s.file.Fingerprint == fp }) {
			continue
		}
		if os.Remove(f.path) == nil {
			p.forget(fp, f.path)
			total -= f.size
		}
	}
	if total+need > limit {
		return fmt.Errorf("%w: they may take %d MB on the disk and take %d; allow more, or delete those that are there", ErrFull, limit>>20, total>>20)
	}
	return nil
}

// forget drops a removed block. A reader that has it gets an error and looks
// elsewhere.
func (p *Proxies) forget(fp footage.Fingerprint, path string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.films[fp] = slices.DeleteFunc(p.films[fp], func(f *light) bool {
		if f.path == path {
			f.close()
		}
		return f.path == path
	})
}

// Size is what light copies and rewrapped films take on the disk, in bytes.
func (p *Proxies) Size() int64 {
	_, total := p.onDisk()
	return total
}

// Delete removes all light copies. Rewrapped films stay: players may use them.
func (p *Proxies) Delete() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.shut()
	return os.RemoveAll(filepath.Join(p.dir, "light"))
}

// Close closes the files; the light copies stay. It may be used on afterwards.
func (p *Proxies) Close() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.shut()
}

func (p *Proxies) shut() {
	for _, list := range p.films {
		for _, f := range list {
			f.close()
		}
	}
	clear(p.films)
	clear(p.read)
}

// covered is the block that holds a frame of a file, or nil.
func (p *Proxies) covered(file *footage.File, frame int) *light {
	if p == nil || file == nil {
		return nil
	}
	return p.find(file.Fingerprint, frame)
}
