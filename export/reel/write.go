package reel

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"whistlecut/export/clip"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// write makes the sound of the whole reel and writes the file.
func (m *making) write(ctx context.Context) error {
	m.meter.rest(sectionsPart)
	voice, err := m.encodeSound(ctx)
	if err != nil {
		return err
	}
	m.meter.rest(sectionsPart + soundPart)
	shelf := &shelf{}
	defer shelf.close()
	picture, err := m.joinPictures(shelf)
	if err != nil {
		return err
	}
	sound, err := m.soundTrack(voice, shelf)
	if err != nil {
		return err
	}
	movie := &mp4.Movie{
		Timescale: m.form.scale(), Title: m.Title, Tracks: []*mp4.OutTrack{picture, sound},
		Chapters: m.chapters(), Check: ctx.Err, Brands: []string{"isom", "isom", "iso2", "avc1", "mp41"},
	}
	whole := filepath.Join(m.dir.dir, ".reel.mp4")
	err = ffmpeg.Whole(whole, func(temp string) error {
		f, err := os.OpenFile(temp, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		_, err = movie.WriteTo(f)
		if e := f.Close(); err == nil {
			err = e
		}
		if err == nil {
			err = m.readBack(temp)
		}
		return err
	})
	if err == nil {
		err = os.Rename(whole, m.Out)
	}
	if err == nil {
		m.meter.rest(1)
	}
	return err
}

// chapters lists the marks. Before the first one of a later section the reel's
// title stands.
func (m *making) chapters() []mp4.Chapter {
	var out []mp4.Chapter
	for _, j := range m.jobs {
		if title := j.wish.Chapter; title != "" {
			if len(out) == 0 && j.start > 0 {
				out = append(out, mp4.Chapter{Title: m.Title})
			}
			out = append(out, mp4.Chapter{Start: m.form.time(j.start), Title: title})
		}
	}
	return out
}

// encodeSound encodes the sections' sound in one go: parts of AAC encoded by
// themselves would be heard to join.
func (m *making) encodeSound(ctx context.Context) (path string, err error) {
	path = filepath.Join(m.dir.dir, ".sound.m4a")
	r, w := io.Pipe()
	done := make(chan struct{})
	go func() {
		defer close(done)
		w.CloseWithError(m.soundTo(w))
	}()
	err = m.runner.Run(ctx, ffmpeg.Job{
		Args: append(append([]string{
			"-y", "-f", "s16le", "-ar", fmt.Sprint(soundRate), "-ac", fmt.Sprint(channels), "-i", "pipe:0",
		}, SoundArgs()...), "-f", "mp4", ffmpeg.Local(path)),
		Stdin: r, Doing: "encode the sound of", Subject: m.Out,
	})
	r.Close() // frees the writer if ffmpeg ended before reading all
	<-done
	return path, err
}

// soundTo writes the reel's samples, each section's from where the reel's count
// has it begin to where the next begins.
func (m *making) soundTo(w io.Writer) error {
	for _, j := range m.jobs {
		n := m.form.samples(j.start+j.frames) - m.form.samples(j.start)
		f, err := os.Open(m.dir.sound(j.name))
		if err != nil {
			return err
		}
		_, err = io.CopyN(w, f, n*sampleBytes)
		f.Close() // only read
		if err != nil {
			return fmt.Errorf("reading the sound of part %d: %w", j.at+1, err)
		}
	}
	return nil
}

// soundTrack lists the encoded sound.
func (m *making) soundTrack(path string, s *shelf) (*mp4.OutTrack, error) {
	film, err := mp4.Open(path)
	if err == nil && (film.Audio() == nil || film.Short != nil) {
		err = errors.New("the encoder gave no sound")
	}
	if err != nil {
		return nil, m.dir.explained(err)
	}
	a := film.Audio()
	out := &mp4.OutTrack{Handler: "soun", Timescale: a.Timescale, Language: "und", Entries: a.Entries}
	src := s.file(path)
	table := &a.Samples
	for i := range table.Len() {
		out.Samples = append(out.Samples, mp4.OutSample{
			Src: src, Offset: table.Offset[i], Size: table.Size[i], Duration: uint32(table.Duration(i)), Key: true, Entry: table.EntryOf(i),
		})
	}
	// What the encoder needed to settle is hidden, as it says itself.
	start := int64(1024)
	for _, e := range a.Edits {
		if e.MediaTime >= 0 {
			start = e.MediaTime
		}
	}
	length := uint64(m.frames()) * uint64(m.form.units())
	out.Edits = []mp4.Edit{{Duration: length, MediaTime: start, Rate: 0x10000}}
	return out, nil
}

func (m *making) frames() int {
	last := m.jobs[len(m.jobs)-1]
	return last.start + last.frames
}

// joinPictures lists the coded frames of all sections, a steady time apart.
func (m *making) joinPictures(s *shelf) (*mp4.OutTrack, error) {
	out := &mp4.OutTrack{
		Handler: "vide", Timescale: m.form.scale(), Language: "und",
		Width: uint32(m.form.Width) << 16, Height: uint32(m.form.Height) << 16,
	}
	var places []int // of each sample, in display order
	for _, j := range m.jobs {
		film, err := mp4.Open(m.dir.picture(j.name))
		if err != nil {
			return nil, err
		}
		v := film.Video()
		if v == nil || v.Samples.Len() != j.frames || len(v.Entries) != 1 || !v.Samples.IsKey(0) {
			return nil, fmt.Errorf("part %d was not made as it should be; make the reel anew", j.at+1)
		}
		if err := describe(out, m.entry(v.Entries[0])); err != nil {
			return nil, err
		}
		src := s.file(m.dir.picture(j.name))
		table := &v.Samples
		for i, at := range displayOrder(table) {
			places = append(places, j.start+at)
			out.Samples = append(out.Samples, mp4.OutSample{
				Src: src, Offset: table.Offset[i], Size: table.Size[i], Key: table.IsKey(i), Duration: uint32(m.form.units()),
			})
		}
	}
	// Coded frames are decoded one by one at the reel's rate, all of them so
	// much ahead that none is late.
	ahead := 0
	for i, at := range places {
		ahead = max(ahead, i-at)
	}
	for i, at := range places {
		out.Samples[i].CTS = int32(int64(at+ahead-i) * m.form.units())
	}
	out.Edits = []mp4.Edit{{Duration: uint64(len(places)) * uint64(m.form.units()), MediaTime: int64(ahead) * m.form.units(), Rate: 0x10000}}
	return out, nil
}

// errMixed: the sections came out in forms that can't share one description.
var errMixed = errors.New("its sections were coded in different ways")

// describe takes a section's description into the reel's only one: some players
// know no more than one. Copied sections have the film's alone, the others
// have one parameter set more.
func describe(t *mp4.OutTrack, e mp4.SampleEntry) error {
	if len(t.Entries) == 0 {
		t.Entries = []mp4.SampleEntry{e}
		return nil
	}
	have, more := t.Entries[0].Config("avcC"), e.Config("avcC")
	switch {
	case clip.HoldsCoding(have, more):
	case clip.HoldsCoding(more, have):
		t.Entries[0] = e
	default:
		return errMixed
	}
	return nil
}

// entry is a section's sample description without what differs from section to
// section, such as bit rates.
func (m *making) entry(e mp4.SampleEntry) mp4.SampleEntry {
	inner := [][]byte{mp4.Box("avcC", e.Config("avcC"))}
	if b := e.Config("colr"); b != nil {
		inner = append(inner, mp4.Box("colr", b))
	}
	return mp4.VisualEntry("avc1", e.Width, e.Height, inner...)
}

// displayOrder gives each row its place in display order.
func displayOrder(t *mp4.Samples) []int {
	rows := make([]int, t.Len())
	for i := range rows {
		rows[i] = i
	}
	slices.SortFunc(rows, func(a, b int) int { return int(t.PTS(a) - t.PTS(b)) })
	at := make([]int, len(rows))
	for n, row := range rows {
		at[row] = n
	}
	return at
}

// readBack looks at the written file.
func (m *making) readBack(path string) error {
	film, err := mp4.Open(path)
	if err != nil {
		return fmt.Errorf("the reel can't be read back: %w", err)
	}
	v, a := film.Video(), film.Audio()
	if film.Short != nil || v == nil || a == nil || v.Samples.Len() != m.frames() {
		return fmt.Errorf("the reel can't be read back as it should be")
	}
	return nil
}
