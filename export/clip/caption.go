package clip

import "whistlecut/export/overlay"

// captions paints a bar for each moment of a window. In a joined window a
// moment's bar is shown until the next one's film begins.
func captions(j *job, w Window, margins Margins) []Overlay {
	width, height := j.source.Size()
	var out []Overlay
	for i, m := range w.Moments {
		img := overlay.Bar(width, height, CaptionOf(m))
		o := Overlay{Image: img, Y: height - img.Bounds().Dy(), First: j.first, Last: j.last}
		if i > 0 {
			o.First, _ = j.source.Window(m.From-margins.Of(m.Kind).Before, m.From)
			o.First = max(o.First, j.first)
			out[i-1].Last = max(o.First-1, out[i-1].First)
		}
		out = append(out, o)
	}
	return out
}

// CaptionOf takes the words of a bar from a moment's labels.
func CaptionOf(m Moment) overlay.Caption {
	kind := m.Labels["kind"]
	if kind == "" {
		kind = m.Kind
	}
	return overlay.Caption{
		Period: m.Labels["period"], Jam: m.Labels["jam"], Clock: m.Labels["clock"],
		Score: m.Labels["score"], Skater: m.Labels["skater"], Kind: kind,
	}
}
