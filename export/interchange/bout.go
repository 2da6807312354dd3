package interchange

import (
	"cmp"
	"slices"
	"time"
)

// Bout is a bout's films with what is marked on them.
type Bout struct {
	Title string
	Films []Film
}

// Timeline puts each camera on a track of its own, whole files one after the
// other with their marks. Cameras that were brought in step are in step here;
// gaps stand where no film of a camera runs. A film nobody placed follows the one
// before of its camera; where two films of a camera overlap the later one follows.
func (b Bout) Timeline() Timeline {
	first, placed := time.Duration(0), false
	for _, f := range b.Films {
		if f.Placed && (!placed || f.Start < first) {
			first, placed = f.Start, true
		}
	}
	var cameras []string
	by := map[string][]Film{}
	for _, f := range b.Films {
		if _, ok := by[f.Camera]; !ok {
			cameras = append(cameras, f.Camera)
		}
		by[f.Camera] = append(by[f.Camera], f)
	}
	var tracks []Track
	for _, c := range cameras {
		var items []Item
		now := time.Duration(0)
		for _, f := range by[c] {
			if at := f.Start - first; f.Placed && at > now {
				if length := f.Rate.span(0, at-now); length.Duration.Value > 0 {
					items = append(items, gap("", length))
					now = at
				}
			}
			items = append(items, f.clip())
			now += f.length()
		}
		tracks = append(tracks, videoTrack(c, items))
	}
	return timelineOf(b.Title, tracks)
}

// length is how long the film is; of one whose length is not known, as far as its
// last mark.
func (f *Film) length() time.Duration {
	if f.Length > 0 {
		return f.Length
	}
	last := time.Second
	for _, m := range f.Marks {
		last = max(last, m.At, m.End)
	}
	return last
}

// clip is the whole film with its marks.
func (f *Film) clip() Item {
	r := f.Rate.span(0, f.length())
	media := f.media()
	x := Item{Schema: "Clip.2", Name: media[defaultMedia].Name, Source: &r, Enabled: true, Media: media, Active: defaultMedia, Metadata: Metadata{}}
	for _, m := range sorted(f.Marks) {
		x.Markers = append(x.Markers, f.marker(m))
	}
	return x
}

// sorted gives marks by time, longer ones first.
func sorted(marks []Mark) []Mark {
	out := slices.Clone(marks)
	slices.SortStableFunc(out, func(a, b Mark) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(b.End, a.End)) })
	return out
}

// Chapters are the jams of a film as chapters, each until the next one.
func (f *Film) Chapters() []Chapter {
	var out []Chapter
	for _, m := range sorted(f.Marks) {
		if m.Kind != MarkJam {
			continue
		}
		at := max(m.At, 0)
		if n := len(out); n > 0 {
			out[n-1].To = at
		}
		out = append(out, Chapter{m.Name, at, max(m.At, m.End)})
	}
	if n := len(out); n > 0 {
		out[n-1].To = max(out[n-1].To, f.Length)
	}
	return out
}
