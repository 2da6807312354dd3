package clip

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"strings"

	"whistlecut/timeline/footage/ffmpeg"
)

// Overlay is a picture drawn over part of a clip, such as a caption bar.
type Overlay struct {
	Image image.Image // transparent where the film shows; pixels of the film as shown
	X, Y  int         // of its top left corner
	// First and Last are frames of the film, both included; both 0 means the
	// whole clip.
	First, Last int
}

// layer is an overlay as ffmpeg gets it: a PNG file, shown over frames of the
// clip counted from 0.
type layer struct {
	path        string
	x, y        int
	first, last int
}

// saveLayers writes the overlays' pictures into dir and lists them; the caller
// removes dir.
func saveLayers(dir string, overlays []Overlay, first, last int) ([]layer, error) {
	var out []layer
	for i, o := range overlays {
		l := layer{path: fmt.Sprintf("%s%c%d.png", dir, os.PathSeparator, i), x: o.X, y: o.Y, first: 0, last: last - first}
		if o.First != 0 || o.Last != 0 {
			if o.Last < first || o.First > last {
				continue
			}
			l.first, l.last = max(0, o.First-first), min(last-first, o.Last-first)
		}
		f, err := os.Create(l.path)
		if err != nil {
			return nil, fmt.Errorf("writing the caption: %w", err)
		}
		err = (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(f, o.Image)
		if e := f.Close(); err == nil {
			err = e
		}
		if err != nil {
			return nil, fmt.Errorf("writing the caption: %w", err)
		}
		out = append(out, l)
	}
	return out, nil
}

// filterArgs gives the inputs of the layers and the filter graph: the wanted
// frames, an even size where the encoder needs one, the layers on top.
func filterArgs(fd *feed, layers []layer, even, deep bool) []string {
	first := selection(fd.spans)
	if even {
		first += ",pad=w=ceil(iw/2)*2:h=ceil(ih/2)*2"
	}
	if len(layers) == 0 {
		return []string{"-map", "0:v:0", "-vf", first}
	}
	format := "yuv420"
	if deep {
		format = "yuv420p10"
	}
	var args []string
	var graph strings.Builder
	fmt.Fprintf(&graph, "[0:v:0]%s[v0]", first)
	for i, l := range layers {
		args = append(args, "-i", ffmpeg.Local(l.path))
		fmt.Fprintf(&graph, ";[v%d][%d:v]overlay=x=%d:y=%d:format=%s:enable='between(n,%d,%d)'[v%d]", i, i+1, l.x, l.y, format, l.first, l.last, i+1)
	}
	return append(args, "-filter_complex", graph.String(), "-map", fmt.Sprintf("[v%d]", len(layers)))
}
