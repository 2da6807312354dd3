package clip

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"strings"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// check reads the clip back and compares its frames' times with the film's. It
// returns what is wrong, "" if nothing is.
func (s *Source) check(path string, p plan, first, last int) string {
	film, err := mp4.Open(path)
	if err != nil {
		return "the clip can't be read back: " + err.Error()
	}
	if film.Short != nil {
		return "the clip can't be read back: " + film.Short.Error()
	}
	v := film.Video()
	if v == nil {
		return "the clip has no picture"
	}
	f, err := listFrames(film, v)
	if err != nil {
		return "the clip can't be read back: " + err.Error()
	}
	if f.len() != last-first+1 || v.Samples.Len() != f.len() {
		return fmt.Sprintf("the clip has %d frames instead of %d", f.len(), last-first+1)
	}
	for k := range f.len() {
		if f.pts[k]-f.pts[0] != s.frames.pts[first+k]-s.frames.pts[first] {
			return fmt.Sprintf("frame %d of the clip has another time than in the film", k)
		}
	}
	if !v.Samples.IsKey(0) {
		return "the clip does not start with a key frame"
	}
	return ""
}

// seamFrames are compared behind the seam: longer than any reordering.
const seamFrames = 12

// checkSeam decodes the clip over its first seam and the film from the same key
// frame, and compares the frames behind it. It is done for the first joined
// clip of a film; the others have the same structure.
func (s *Source) checkSeam(ctx context.Context, path string, p plan, first int) (bad string, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.checked {
		return s.seamBad, nil
	}
	keyFrame := int(s.frames.shown[p.key])
	n := min(seamFrames, len(p.rows))
	file, err := os.Open(s.data)
	if err != nil {
		return "", fmt.Errorf("opening the film: %w", err)
	}
	defer file.Close()
	want, err := s.hashFilm(ctx, file, p, keyFrame, n)
	if err != nil {
		return "", err
	}
	got, err := s.hashClip(ctx, path, keyFrame-first, n)
	if err != nil {
		return "", err
	}
	s.checked = true
	if len(want) != n || strings.Join(want, " ") != strings.Join(got, " ") {
		s.seamBad = "frames behind the seam differ from the film"
	}
	return s.seamBad, nil
}

// hashFilm hashes n frames of the film from the key frame on, in display order.
func (s *Source) hashFilm(ctx context.Context, file *os.File, p plan, keyFrame, n int) ([]string, error) {
	t := &mp4.OutTrack{Handler: "vide", Timescale: s.frames.scale, Entries: s.video.Entries, Width: s.video.Width, Height: s.video.Height}
	table := &s.video.Samples
	last := 0
	for i, row := range p.rows {
		if k := int(s.frames.shown[row]); k < keyFrame+n {
			last = i
		}
	}
	start := table.DTS[p.key]
	now := int64(0)
	for i, row := range p.rows[:last+1] {
		d := max(table.Duration(row), 1)
		if i+1 < len(p.rows) {
			d = max(table.DTS[p.rows[i+1]]-table.DTS[row], 1)
		}
		t.Samples = append(t.Samples, mp4.OutSample{
			Src: file, Offset: table.Offset[row], Size: table.Size[row], Duration: uint32(d),
			CTS: int32(table.PTS(row) - start - now), Key: table.IsKey(row), Entry: table.EntryOf(row),
		})
		now += d
	}
	fd := &feed{movie: mp4.Movie{Tracks: []*mp4.OutTrack{t}}}
	return s.hashes(ctx, n, func(job ffmpeg.Job) error {
		job.Args = append([]string{"-f", "mov", "-noautorotate", "-i", "pipe:0"}, job.Args...)
		return fd.run(ctx, s.runner, job)
	}, n)
}

// hashClip hashes n frames of a clip behind its first skip frames.
func (s *Source) hashClip(ctx context.Context, path string, skip, n int) ([]string, error) {
	return s.hashes(ctx, skip+n, func(job ffmpeg.Job) error {
		job.Args = append(append([]string{"-noautorotate"}, ffmpeg.Input(path)...), job.Args...)
		return s.runner.Run(ctx, job)
	}, n)
}

// hashes runs ffmpeg for some frames and returns the hashes of the last n.
func (s *Source) hashes(ctx context.Context, frames int, run func(ffmpeg.Job) error, n int) ([]string, error) {
	var out bytes.Buffer
	err := run(ffmpeg.Job{
		Args: []string{
			"-map", "0:v:0", "-frames:v", fmt.Sprint(frames), "-fps_mode", "passthrough", "-f", "framehash", "-hash", "murmur3", "pipe:1",
		},
		Stdout: &out, Doing: "check a clip of", Subject: s.Path,
	})
	if err != nil {
		return nil, err
	}
	var list []string
	for line := range strings.Lines(out.String()) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		cols := strings.Split(line, ",")
		list = append(list, strings.TrimSpace(cols[len(cols)-1]))
	}
	return list[max(0, len(list)-n):], nil
}
