package reel

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"
	"time"

	"whistlecut/timeline/footage"
)

// togetherAtMost is how many stretches of sound one child decodes: each reads the
// film's tables anew, some 10 MB for an hour.
const togetherAtMost = 8

// soundBatch is the sound of some sections of one film, decoded by one child
// beside the encoding of pictures.
type soundBatch struct {
	file *footage.File
	cuts []footage.SoundCut
	done chan struct{}
	// failed means that each section is to decode its own sound, and to say what
	// is wrong with it.
	failed bool
}

// soundFormat is how sections keep their sound.
func soundFormat() footage.SoundFormat {
	return footage.SoundFormat{Rate: soundRate, Channels: channels}
}

// soundsAhead decodes the sound of the sections that are to be made, in their
// order. The caller must wait for it after cancelling ctx.
func (m *making) soundsAhead(ctx context.Context, wg *sync.WaitGroup) {
	var list []*soundBatch
	var open *soundBatch
	planned := map[string]bool{}
	for _, j := range m.jobs {
		// What an earlier try left is looked at once, here.
		j.made, j.kept = m.dir.kept(j.name, m.form, j.frames)
		f := j.wish.Film
		if j.kept || f == nil || f.Mute || !j.source.File().Info.HasSound() || planned[j.name] {
			continue
		}
		planned[j.name] = true
		var cuts []footage.SoundCut
		for i, l := range j.course.legs {
			if l.rate >= slowestHeard {
				cuts = append(cuts, m.soundCut(j, i))
			}
		}
		if len(cuts) == 0 || len(cuts) > togetherAtMost {
			continue
		}
		if open == nil || open.file != j.source.File() || len(open.cuts)+len(cuts) > togetherAtMost {
			open = &soundBatch{file: j.source.File(), done: make(chan struct{})}
			list = append(list, open)
		}
		open.cuts = append(open.cuts, cuts...)
		j.ahead = open
	}
	wg.Go(func() {
		for _, b := range list {
			// A single stretch costs no less here, but is decoded beside the picture.
			b.failed = ctx.Err() != nil || b.file.Sounds(ctx, soundFormat(), b.cuts) != nil
			close(b.done)
		}
	})
}

// soundCut is the sound of a leg and the file it is decoded into.
func (m *making) soundCut(j *job, leg int) footage.SoundCut {
	l := j.course.legs[leg]
	from, to, tempo := l.heard()
	return footage.SoundCut{From: from, To: to, Tempo: tempo, Path: filepath.Join(m.dir.dir, fmt.Sprintf(".%s-%d.raw", j.name, leg))}
}

// heard is the film time that a leg needs the sound of: a little more than is used,
// for what is used is counted in samples.
func (l leg) heard() (from, to time.Duration, tempo float64) {
	if l.rate != 1 {
		tempo = l.rate
	}
	return l.from, l.to + time.Duration(float64(100*time.Millisecond)*l.rate), tempo
}

// legReader opens the sound of a leg: what was decoded ahead, or a decoder.
func (m *making) legReader(ctx context.Context, j *job, leg int) (io.ReadCloser, error) {
	if b := j.ahead; b != nil {
		select {
		case <-b.done:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
		if !b.failed {
			return openOnce(m.soundCut(j, leg).Path)
		}
	}
	from, to, tempo := j.course.legs[leg].heard()
	format := soundFormat()
	format.Tempo = tempo
	return j.source.File().Sound(ctx, format, from, to)
}

// onceFile is a file that is removed when it was read.
type onceFile struct{ *os.File }

func openOnce(path string) (io.ReadCloser, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	return onceFile{f}, nil
}

func (f onceFile) Close() error {
	err := f.File.Close()
	_ = os.Remove(f.Name()) // best effort: the folder goes as a whole
	return err
}
