package reel

import (
	"fmt"
	"image"
	"strings"

	"whistlecut/export/clip"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// bt709 is how colours of high definition are coded (ITU-R BT.709); the reel's
// pictures are said to be so.
const bt709 = "bt709"

// matrixOf is how a film's colours are coded; films that don't say it are taken
// by their size, as players do.
func matrixOf(v footage.Video) string {
	switch {
	case v.Matrix != "":
		return v.Matrix
	case v.StoredWidth >= 1280 || v.StoredHeight > 576:
		return bt709
	}
	return "bt470bg"
}

// look is how colours are coded in the reel.
type look struct {
	matrix string
	film   bool // a film's own coding, which says so itself
}

// range and matrix for ffmpeg's scaler.
func (l look) scale() string {
	return "out_color_matrix=" + scaleMatrix(l.matrix) + ":out_range=tv"
}

// tagged says in the stream how colours are coded.
func (l look) tagged() string {
	if l.film {
		return "format=yuv420p"
	}
	return "setparams=range=tv:color_primaries=bt709:color_trc=bt709:colorspace=bt709,format=yuv420p"
}

// scaled are the filters that bring a film's frames into a part of the picture.
func scaled(v footage.Video, part image.Rectangle, l look) string {
	fit := Fit(v.Width, v.Height, part)
	var f []string
	scale := fmt.Sprintf("scale=%d:%d:flags=bicubic", fit.Dx(), fit.Dy())
	if v.PixelFormat != "yuv420p" {
		scale += ":out_range=tv"
	}
	matrix := matrixOf(v)
	if matrix != l.matrix && matrix != "gbr" {
		scale += ":in_color_matrix=" + scaleMatrix(matrix) + ":out_color_matrix=" + scaleMatrix(l.matrix)
	}
	f = append(f, scale) // does nothing where nothing differs
	f = append(f, "format=yuv420p", "setsar=1")
	if fit != part {
		f = append(f, fmt.Sprintf("pad=%d:%d:%d:%d:black", part.Dx(), part.Dy(), fit.Min.X-part.Min.X, fit.Min.Y-part.Min.Y))
	}
	if v.Interlaced {
		f = append([]string{"yadif=deint=interlaced"}, f...)
	}
	return strings.Join(f, ",")
}

// scaleMatrix is the name by which ffmpeg's scaler knows a matrix.
func scaleMatrix(m string) string {
	switch m {
	case "smpte170m", "bt470bg", "smpte240m", "fcc":
		return m
	case "bt2020nc", "bt2020c":
		return "bt2020"
	case bt709:
		return bt709
	}
	return "auto"
}

// steady repeats frames up to the reel's rate and holds the last one, for longer
// than the section lasts: the encoder stops at its number of frames.
func steady(form Format, frames int) string {
	return fmt.Sprintf("fps=fps=%d/%d:start_time=0:round=near:eof_action=pass,tpad=stop_mode=clone:stop=%d", form.Rate.Num, form.Rate.Den, frames)
}

// drawing is a layer as ffmpeg gets it.
type drawing struct {
	path     string
	x, y     int
	from, to int
	all      bool
}

// filmArgs are ffmpeg's inputs and graph for a section of film fed to its
// standard input.
func filmArgs(form Format, frames int, lk look, feed *clip.Feed, main footage.Video, beside *footage.Video, layers []drawing) []string {
	args := []string{"-copyts", "-f", "mov", "-i", "pipe:0"}
	for _, l := range layers {
		args = append(args, "-i", ffmpeg.Local(l.path))
	}
	var g strings.Builder
	if beside == nil {
		fmt.Fprintf(&g, "[0:v:0]%s,%s,%s[v0]", feed.Keep(), scaled(main, form.Whole(), lk), steady(form, frames))
	} else {
		left, right := form.Halves()
		fmt.Fprintf(&g, "[0:v:0]%s,%s,%s[l];", feed.Keep(), scaled(main, left, lk), steady(form, frames))
		fmt.Fprintf(&g, "[0:v:1]%s,%s,%s[r];", feed.Keep(), scaled(*beside, right, lk), steady(form, frames))
		g.WriteString("[l][r]hstack[v0]")
	}
	for i, l := range layers {
		when := ""
		if !l.all {
			when = fmt.Sprintf(":enable='between(n,%d,%d)'", l.from, l.to)
		}
		fmt.Fprintf(&g, ";[%d:v]scale=%s,format=yuva420p[p%d]", i+1, lk.scale(), i)
		fmt.Fprintf(&g, ";[v%d][p%d]overlay=x=%d:y=%d:format=yuv420%s[v%d]", i, i, l.x, l.y, when, i+1)
	}
	fmt.Fprintf(&g, ";[v%d]%s[out]", len(layers), lk.tagged())
	return append(args, "-filter_complex", g.String(), "-map", "[out]")
}

// cardArgs do the same for a card in a PNG file, whose size fits the picture.
func cardArgs(form Format, frames int, lk look, path string, size image.Point) []string {
	fit := Fit(size.X, size.Y, form.Whole())
	graph := fmt.Sprintf("scale=%d:%d:flags=bicubic:%s,format=yuv420p,setsar=1,pad=%d:%d:%d:%d:black,%s,tpad=stop_mode=clone:stop=%d",
		fit.Dx(), fit.Dy(), lk.scale(), form.Width, form.Height, fit.Min.X, fit.Min.Y, lk.tagged(), frames)
	return []string{
		"-f", "image2", "-framerate", fmt.Sprintf("%d/%d", form.Rate.Num, form.Rate.Den), "-pattern_type", "none", "-i", ffmpeg.Local(path),
		"-vf", graph,
	}
}
