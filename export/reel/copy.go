package reel

import (
	"context"
	"fmt"
	"image"

	"whistlecut/export/clip"
	"whistlecut/timeline/footage/ffmpeg"
)

// worthCopying is how much of a reel must be copyable for its coding to be a
// film's: less is not worth that the rest takes more room.
const worthCopying = 0.25

// chooseCoding decides whether the reel takes over the coding of its films, so
// that untouched stretches can be copied, and says of every section of film why
// not where it can't. All other sections are then encoded as pictures of those
// films: decoders see one coding from the first frame to the last.
func (m *making) chooseCoding() error {
	copied := map[string]int{}
	all := 0
	for _, j := range m.jobs {
		all += j.frames
		if j.course == nil {
			continue
		}
		coding, encoded, why, err := m.copyable(j)
		if err != nil {
			return sectionError(j.at, err)
		}
		if j.coding, j.why = coding, why; why == "" {
			copied[coding] += j.frames - encoded
		}
	}
	best := ""
	for _, j := range m.jobs {
		if j.why == "" && j.coding != "" && copied[j.coding] > copied[best] {
			best = j.coding
		}
	}
	m.look = look{matrix: bt709}
	if best == "" || float64(copied[best]) < worthCopying*float64(all) {
		for _, j := range m.jobs {
			if j.course != nil && j.why == "" {
				j.why = "too little of the reel could be copied for it to take over the film's coding"
			}
		}
		return nil
	}
	for _, j := range m.jobs {
		if j.course == nil || j.why != "" {
			continue
		}
		if j.coding != best {
			j.why = "it is coded otherwise than the film that most is copied from"
			continue
		}
		if m.base == nil {
			m.base, m.look = j.source, look{matrix: matrixOf(j.source.File().Info.Video), film: true}
		}
	}
	return nil
}

// copyable says of which coding a section is if it can be copied, and how many
// frames would be encoded then, or why it can't.
func (m *making) copyable(j *job) (coding string, encoded int, why string, err error) {
	f, v := j.wish.Film, j.source.File().Info.Video
	no := func(why string) (string, int, string, error) { return "", 0, why, nil }
	switch {
	case m.Reencode:
		return no("encoding was asked for")
	case f.Beside != nil:
		return no("another film is beside it")
	case !j.course.plainRun():
		return no("its speed changes or a frame is held")
	case len(f.Layers) > 0:
		return no("something is drawn over it")
	case !j.source.Upright():
		return no("its picture is turned or its pixels are not square")
	case image.Pt(v.StoredWidth, v.StoredHeight) != image.Pt(m.form.Width, m.form.Height):
		return no(fmt.Sprintf("its picture has %dx%d pixels and the reel's %dx%d", v.StoredWidth, v.StoredHeight, m.form.Width, m.form.Height))
	}
	if coding, why = j.source.Coding(); why != "" {
		return no(why)
	}
	if v.PixelFormat != "yuv420p" {
		return no("its colours use the full range")
	}
	if j.frames != j.course.last-j.course.first+1 || !j.source.Steady(j.course.first, j.course.last, m.form.Rate) {
		return no(fmt.Sprintf("its frames don't come at %v a second", m.form.Rate))
	}
	method, encoded, why, err := j.source.Plan(j.course.first, j.course.last)
	if err != nil || method == clip.Reencoded {
		return "", 0, why, err
	}
	return coding, encoded, "", nil
}

// cut makes a section by copying. ok is false where the film turned out not to
// allow it, which j.why says then.
func (m *making) cut(ctx context.Context, j *job) (res made, ok bool, err error) {
	r, err := j.source.Cut(ctx, clip.Request{
		First: j.course.first, Last: j.course.last, Out: m.dir.picture(j.name), Part: true,
		Progress: func(part float64) { m.meter.section(j, 0.98*part) },
	})
	if err != nil {
		return made{}, false, err
	}
	res = made{Method: Edges, Encoded: r.Encoded}
	switch r.Method {
	case clip.Copied:
		res.Method = Copied
	case clip.Reencoded:
		j.why = r.Why
		return made{}, false, nil
	}
	return res, true, nil
}

// start starts ffmpeg.
type start func(context.Context, ffmpeg.Job) error

// encodeAsFilm encodes a section as pictures of the film that the others are
// copied from.
func (m *making) encodeAsFilm(ctx context.Context, j *job, input []string, job ffmpeg.Job, run start) error {
	return m.base.EncodePart(ctx, j.frames, m.form.keys(), m.form.Rate, m.dir.picture(j.name), input, job, run)
}
