package reels

import (
	"image"
	"slices"
	"time"

	"whistlecut/export/clip"
	"whistlecut/export/overlay"
	"whistlecut/export/reel"
	"whistlecut/timeline"
)

// layer is a picture over a clip from a film time to another.
type layer struct {
	img      image.Image
	at       image.Point // of its upper left corner on the film
	from, to time.Duration
}

// drawn lists the drawings of a footage file that are seen in a stretch of it, by
// the time they appear.
func drawn(f timeline.Facts, footage timeline.ID, shown timeline.TimeRange) []timeline.Tag {
	var out []timeline.Tag
	for _, t := range timeline.SortTags(f.Tags) {
		if t.Drawing != nil && t.Place.Footage == footage && t.Place.Film < shown.End && t.Drawing.End.Film > shown.Start {
			out = append(out, t)
		}
	}
	return out
}

// frozen lists the drawings seen on a picture that is held.
func frozen(f timeline.Facts, footage timeline.ID, at time.Duration) []timeline.Tag {
	var out []timeline.Tag
	for _, t := range timeline.SortTags(f.Tags) {
		if t.Drawing != nil && t.Place.Footage == footage && t.Place.Film <= at && (t.Drawing.End.Film > at || t.Drawing.End.Film == t.Place.Film && t.Place.Film == at) {
			out = append(out, t)
		}
	}
	return out
}

// drawingLayers paints the drawings of a stretch of film: one picture for every
// time in which the same drawings are seen.
func drawingLayers(f timeline.Facts, footage timeline.ID, shown timeline.TimeRange, width, height int) []layer {
	tags := drawn(f, footage, shown)
	if len(tags) == 0 {
		return nil
	}
	times := []time.Duration{shown.Start, shown.End}
	for _, t := range tags {
		times = append(times, min(max(t.Place.Film, shown.Start), shown.End), min(max(t.Drawing.End.Film, shown.Start), shown.End))
	}
	slices.Sort(times)
	times = slices.Compact(times)
	var out []layer
	for i := 1; i < len(times); i++ {
		var list []timeline.Drawing
		for _, t := range tags {
			if t.Place.Film <= times[i-1] && t.Drawing.End.Film >= times[i] {
				list = append(list, *t.Drawing)
			}
		}
		if img, at, ok := paint(f, list, width, height); ok {
			out = append(out, layer{img, at, times[i-1], times[i]})
		}
	}
	return out
}

// paint paints drawings and cuts what is not transparent out of the picture.
func paint(f timeline.Facts, list []timeline.Drawing, width, height int) (image.Image, image.Point, bool) {
	if len(list) == 0 {
		return nil, image.Point{}, false
	}
	img := overlay.Drawings(width, height, list, overlay.TeamColours(f.Teams[0].Colour, f.Teams[1].Colour))
	r := painted(img)
	return img.SubImage(r), r.Min, !r.Empty()
}

// painted is the smallest rectangle that holds all that is not transparent.
func painted(img *image.RGBA) image.Rectangle {
	b := img.Bounds()
	var r image.Rectangle
	for y := b.Min.Y; y < b.Max.Y; y++ {
		row := img.Pix[img.PixOffset(b.Min.X, y) : img.PixOffset(b.Max.X-1, y)+4]
		first, last := -1, -1
		for x := 3; x < len(row); x += 4 {
			if row[x] != 0 {
				if first < 0 {
					first = x / 4
				}
				last = x / 4
			}
		}
		if first >= 0 {
			r = r.Union(image.Rect(b.Min.X+first, y, b.Min.X+last+1, y+1))
		}
	}
	return r
}

// barLayer is the bar along the lower edge for the whole of a clip.
func barLayer(labels map[string]string, shown timeline.TimeRange, width, height int) (layer, int) {
	img := overlay.Bar(width, height, clip.CaptionOf(clip.Moment{Labels: labels}))
	tall := img.Bounds().Dy()
	return layer{img, image.Pt(0, height-tall), shown.Start, shown.End}, tall
}

// captionLayer is the burned caption in the reel's languages for the whole of a
// clip; ok is false when there is nothing to say.
func captionLayer(w timeline.Words, languages []string, shown timeline.TimeRange, width, height, bar int) (layer, bool) {
	var lines []string
	for _, l := range languages[:min(len(languages), 2)] {
		lines = append(lines, w.In(l))
	}
	img := overlay.Captions(width, height, lines, bar)
	if img.Bounds().Empty() {
		return layer{}, false
	}
	return layer{img, img.Bounds().Min, shown.Start, shown.End}, true
}

// DrawnOver paints the wanted drawings of a stretch of a bout's film as layers of a
// section that shows it in a part of the reel's picture.
func DrawnOver(f timeline.Facts, footage timeline.ID, shown timeline.TimeRange, in image.Rectangle, wanted func(timeline.Drawing) bool) []reel.Layer {
	kept := f
	kept.Tags = map[timeline.ID]timeline.Tag{}
	for id, t := range f.Tags {
		if t.Drawing != nil && wanted(*t.Drawing) {
			kept.Tags[id] = t
		}
	}
	var out []reel.Layer
	for _, l := range drawingLayers(kept, footage, shown, in.Dx(), in.Dy()) {
		out = append(out, reel.Layer{Image: l.img, X: l.at.X + in.Min.X, Y: l.at.Y + in.Min.Y, From: l.from, To: l.to})
	}
	return out
}

// HideOn paints over a picture of a film time what is hidden on it.
func HideOn(img *image.RGBA, f timeline.Facts, footage timeline.ID, at time.Duration) {
	var list []timeline.Drawing
	for _, t := range frozen(f, footage, at) {
		if t.Drawing.Shape == timeline.ShapeHide {
			list = append(list, *t.Drawing)
		}
	}
	var p overlay.Painter
	p.Paint(img, list, overlay.TeamColours(f.Teams[0].Colour, f.Teams[1].Colour))
}
