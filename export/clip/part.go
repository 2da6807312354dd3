package clip

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"slices"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// Parts of several films, and frames encoded anew between them, can lie in one
// track under one description where the films have the same coding. Parts are
// made by Cut with Request.Part, encoded stretches by EncodePart.

// Coding is equal for films whose parts can lie in one track; why says why there
// is none.
func (s *Source) Coding() (coding, why string) {
	c, ok := s.codec.(*avc)
	switch {
	case s.whole != "":
		return "", s.whole
	case !ok:
		return "", "it is not H.264"
	case len(s.video.Entries) != 1:
		return "", "its coding changes on the way"
	case c.seq.depthLuma > 0 || c.seq.depthChroma > 0 || c.seq.chroma != 1:
		return "", "it is not coded as 8 bits in 4:2:0"
	case c.seq.interlaced:
		return "", "it is interlaced"
	case !c.spliceable():
		return "", "other pictures can't stand under its parameters"
	}
	e := s.video.Entries[0]
	return fmt.Sprintf("%dx%d %x", e.Width, e.Height, c.config.bytes()), ""
}

// Steady says whether frames come at a rate in frames a second: none further from
// its place than a quarter of a frame.
func (s *Source) Steady(first, last int, rate footage.Rational) bool {
	f := s.frames
	step := float64(f.scale) / rate.Float()
	for k := first; k <= last; k++ {
		if math.Abs(float64(f.pts[k]-f.pts[first])-float64(k-first)*step) > step/4 {
			return false
		}
	}
	return true
}

// Plan says how Cut would make a clip, how many frames it would encode and why
// not fewer.
func (s *Source) Plan(first, last int) (method Method, encoded int, why string, err error) {
	if first < 0 || last < first || last >= s.playable {
		return "", 0, "", fmt.Errorf("frames %d to %d lie outside the film, which has frames 0 to %d", first, last, s.playable-1)
	}
	p, err := s.makePlan(first, last)
	return p.method, p.head.len() + p.tail.len(), p.why, err
}

// alike are the settings of the encoder by which the picture parameters of all
// parts become the same, whatever is encoded.
const alike = ":stitchable=1:8x8dct=0"

// EncodePart encodes frames as a part for films of this one's coding: an MP4 of
// that picture alone with a key frame every so many frames at least. input are ffmpeg's arguments up to the encoder, for frames
// of the film's size in yuv420p; start starts ffmpeg, Run of a Runner or of a
// Feed.
func (s *Source) EncodePart(ctx context.Context, frames, keys int, rate footage.Rational, out string, input []string, job ffmpeg.Job, start func(context.Context, ffmpeg.Job) error) error {
	if _, why := s.Coding(); why != "" {
		return errors.New("frames can't be encoded as the film's: " + why)
	}
	return whole(out, func(temp *os.File) error {
		dir, err := os.MkdirTemp(filepath.Dir(out), tempPrefix(out)+"*")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		file, err := os.Create(filepath.Join(dir, "frames"))
		if err != nil {
			return err
		}
		defer file.Close()
		c := s.codec.(*avc)
		sp := &spool{out: file, lengthSize: c.lengthSize()}
		if sp.splice, err = s.partSplice(); err != nil {
			return err
		}
		args := append(input[:len(input):len(input)], "-fps_mode", "passthrough", "-enc_time_base", fmt.Sprintf("%d/%d", rate.Den, rate.Num), "-frames:v", fmt.Sprint(frames))
		job.Args = append(append(args, c.partEncoder(frames, fmt.Sprintf(":keyint=%d", keys))...), "pipe:1")
		job.Stdout = sp
		if err := start(ctx, job); err != nil {
			return errors.Join(sp.err, err)
		}
		if err := sp.finish(); err != nil {
			return err
		}
		if len(sp.units) != frames {
			return fmt.Errorf("the encoder gave %d frames instead of %d", len(sp.units), frames)
		}
		if sp.splice.off {
			return errors.New("what the encoder makes can't stand under the film's parameters")
		}
		entries, _, _, err := c.join(s.video.Entries[0], sp.sets, sp.splice)
		if err != nil {
			return err
		}
		t := &mp4.OutTrack{
			Handler: "vide", Timescale: uint32(rate.Num), Width: s.video.Width, Height: s.video.Height, Entries: entries,
		}
		for _, u := range sp.units {
			t.Samples = append(t.Samples, mp4.OutSample{Src: file, Offset: u.offset, Size: u.size, Key: u.key, Duration: uint32(rate.Den)})
		}
		m := &mp4.Movie{Tracks: []*mp4.OutTrack{t}, Check: ctx.Err}
		_, err = m.WriteTo(temp)
		return err
	})
}

// partSplice prepares rewriting frames that stand by themselves: none is copied
// behind them.
func (s *Source) partSplice() (*splice, error) {
	for row := range s.video.Samples.Len() {
		if !s.video.Samples.IsKey(row) {
			continue
		}
		f, err := os.Open(s.data)
		if err != nil {
			return nil, fmt.Errorf("opening the film: %w", err)
		}
		defer f.Close()
		sample, err := s.read(f, row)
		if err != nil {
			return nil, err
		}
		units, err := nals(sample, s.codec.lengthSize())
		if err != nil {
			return nil, err
		}
		if sp := s.codec.newSplice(units, 0, nil); sp != nil {
			sp.anew = true
			return sp, nil
		}
	}
	return nil, errors.New("it has no key frame at which its groups are closed")
}

// partEncoder gives the encoder's arguments for parts.
func (c *avc) partEncoder(frames int, more string) []string {
	args := c.encoder("", frames)
	for i, a := range args {
		if a == "-x264-params" {
			args[i+1] += alike + more
		}
	}
	return args
}

// Upright says whether the coded frames are shown as they are: not turned, with
// square pixels.
func (s *Source) Upright() bool {
	v := s.file.Info.Video
	return v.Rotation == 0 && image.Pt(v.Width, v.Height) == image.Pt(v.StoredWidth, v.StoredHeight) && s.video.Matrix == mp4.Identity
}

// HoldsCoding says whether a decoder configuration of H.264 ("avcC") has all
// parameter sets of another one, so that it serves for both.
func HoldsCoding(outer, inner []byte) bool {
	a, err := parseAVC(outer)
	if err != nil {
		return false
	}
	b, err := parseAVC(inner)
	if err != nil || a.lengthSize != b.lengthSize || a.profile != b.profile {
		return false
	}
	has := func(list [][]byte, set []byte) bool {
		return slices.ContainsFunc(list, func(s []byte) bool { return bytes.Equal(s, set) })
	}
	for _, s := range b.sps {
		if !has(a.sps, s) {
			return false
		}
	}
	for _, s := range b.pps {
		if !has(a.pps, s) {
			return false
		}
	}
	return true
}
