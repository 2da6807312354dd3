package bench

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"time"

	"whistlecut/export/reel"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// ReelOptions are for Reel.
type ReelOptions struct {
	Runner *ffmpeg.Runner // nil: ffmpeg.Default()
	Dir    string         // where films and reels are made; "": a temporary folder, removed
	Seed   uint64
	Short  bool // a small film, few clips
}

// ReelReport is the result of Reel. Costs are of one reel each.
type ReelReport struct {
	Frames int // of the reel
	// The reel with bars and cards, every frame encoded: by one graph of ffmpeg,
	// and by us.
	Graph, Ours Cost
	// The same clips untouched: encoded by one graph, encoded by us, copied by us.
	PlainGraph, PlainOurs, Copied Cost
	Methods                       map[reel.Method]int // of the copied reel
	Bytes                         map[string]int64    // size of each file
}

// reelPart is a section of the measured reel: film, or a card where the length
// of film is 0.
type reelPart struct {
	from, length float64 // seconds
	bar          bool
}

const cardSeconds = 2

// Reel measures what a reel costs beside the same reel made by ffmpeg alone, in
// one graph with the same settings of the encoders, in the same run; and what is
// saved where clips can be copied.
func Reel(ctx context.Context, out io.Writer, o ReelOptions) (ReelReport, error) {
	if o.Runner == nil {
		o.Runner = ffmpeg.Default()
	}
	report := ReelReport{Methods: map[reel.Method]int{}, Bytes: map[string]int64{}}
	dir, done, err := workFolder(o.Dir, "whistlecut-reel-*")
	if err != nil {
		return report, err
	}
	defer done()
	m := &reelMeter{ctx: ctx, o: o, dir: dir, w: 1280, h: 720, report: &report}
	clips, seconds, frames, loops := 3, 10.0, 600, 1
	if o.Short {
		m.w, m.h, clips, seconds, frames, loops = 640, 360, 2, 2.0, 300, 0
	}
	m.film = filepath.Join(dir, "film.mp4")
	if err := noisyFilm(ctx, o.Runner, m.film, m.w, m.h, frames, loops, 30); err != nil {
		return report, err
	}
	defer os.Remove(m.film)
	r := rand.New(rand.NewPCG(o.Seed, 9))
	var plain, dressed []reelPart
	for i := range clips {
		// At the beginning of a frame, so that both ways have the same number.
		from := r.IntN(frames*(loops+1) - int(30*seconds) - 30)
		p := reelPart{from: float64(from) / 30, length: seconds}
		plain = append(plain, p)
		if i%2 == 0 {
			dressed = append(dressed, reelPart{})
		}
		p.bar = true
		dressed = append(dressed, p)
	}
	fmt.Fprintf(out, "A reel of %d clips of %.0f s, %dx%d, 30 frames a second, a key frame every 30\n", clips, seconds, m.w, m.h)
	printReelHead(out)
	if report.Graph, err = m.cost("graph", dressed, m.graph); err != nil {
		return report, err
	}
	printReelCost(out, "cards and bars: one graph of ffmpeg", report.Graph, report.Graph, report.Bytes["graph"])
	if report.Ours, err = m.cost("ours", dressed, m.ours(true)); err != nil {
		return report, err
	}
	printReelCost(out, "cards and bars: sections", report.Ours, report.Graph, report.Bytes["ours"])
	if report.PlainGraph, err = m.cost("plain graph", plain, m.graph); err != nil {
		return report, err
	}
	printReelCost(out, "clips as they are: one graph of ffmpeg", report.PlainGraph, report.PlainGraph, report.Bytes["plain graph"])
	if report.PlainOurs, err = m.cost("plain", plain, m.ours(true)); err != nil {
		return report, err
	}
	printReelCost(out, "clips as they are: sections, encoded", report.PlainOurs, report.PlainGraph, report.Bytes["plain"])
	if report.Copied, err = m.cost("copied", plain, m.ours(false)); err != nil {
		return report, err
	}
	printReelCost(out, fmt.Sprintf("clips as they are: copied (%d whole, %d but their ends)", report.Methods[reel.Copied], report.Methods[reel.Edges]), report.Copied, report.PlainGraph, report.Bytes["copied"])
	return report, nil
}

// reelMeter makes one reel in one way or another.
type reelMeter struct {
	ctx       context.Context
	o         ReelOptions
	dir, film string
	w, h      int
	report    *ReelReport
}

// cost makes a reel and counts its frames.
func (m *reelMeter) cost(name string, parts []reelPart, do func(parts []reelPart, path string) error) (Cost, error) {
	path := filepath.Join(m.dir, "reel.mp4")
	defer os.Remove(path)
	c := Cost{Clips: len(parts)}
	for _, p := range parts {
		c.Film += p.seconds()
	}
	cpu, wall := cpuTime(), time.Now()
	if err := do(parts, path); err != nil {
		return c, err
	}
	c.CPU, c.Wall = cpuTime()-cpu, time.Since(wall)
	film, err := mp4.Open(path)
	if err != nil {
		return c, err
	}
	m.report.Frames = film.Video().Samples.Len()
	if st, err := os.Stat(path); err == nil {
		m.report.Bytes[name] = st.Size()
	}
	if d := float64(m.report.Frames)/30 - c.Film; d > 0.05*float64(len(parts)) || d < -0.05*float64(len(parts)) {
		return c, fmt.Errorf("%s: the reel has %d frames and should last %.2f s", name, m.report.Frames, c.Film)
	}
	return c, nil
}

func (p reelPart) seconds() float64 {
	if p.length == 0 {
		return cardSeconds
	}
	return p.length
}

// card and bar are the same pictures for both ways.
func (m *reelMeter) card() image.Image {
	img := image.NewRGBA(image.Rect(0, 0, m.w, m.h))
	for y := range m.h {
		for x := range m.w {
			img.SetRGBA(x, y, color.RGBA{uint8(x * 255 / m.w), uint8(y * 255 / m.h), 90, 255})
		}
	}
	return img
}

func (m *reelMeter) bar() image.Image {
	img := image.NewRGBA(image.Rect(0, 0, m.w, m.h/12))
	draw.Draw(img, img.Bounds(), image.NewUniform(color.RGBA{0, 0, 0, 170}), image.Point{}, draw.Src)
	draw.Draw(img, image.Rect(m.h/24, m.h/48, m.w/3, m.h/24), image.NewUniform(color.White), image.Point{}, draw.Src)
	return img
}

func (m *reelMeter) ours(encode bool) func([]reelPart, string) error {
	return func(parts []reelPart, path string) error {
		r := reel.Reel{Out: path, Reencode: encode}
		for _, p := range parts {
			if p.length == 0 {
				r.Sections = append(r.Sections, reel.Section{Card: &reel.Card{Image: m.card(), Length: cardSeconds * time.Second}})
				continue
			}
			f := &reel.Film{Path: m.film, From: seconds(p.from), To: seconds(p.from + p.length)}
			if p.bar {
				f.Layers = []reel.Layer{{Image: m.bar(), Y: m.h - m.h/12}}
			}
			r.Sections = append(r.Sections, reel.Section{Film: f})
		}
		res, err := r.Make(m.ctx, m.o.Runner)
		if !encode {
			for _, s := range res.Sections {
				m.report.Methods[s.Method]++
			}
		}
		return err
	}
}

// graph is what a person would write: every clip an input, joined by one filter.
func (m *reelMeter) graph(parts []reelPart, path string) error {
	card, bar := filepath.Join(m.dir, "card.png"), filepath.Join(m.dir, "bar.png")
	for name, img := range map[string]image.Image{card: m.card(), bar: m.bar()} {
		f, err := os.Create(name)
		if err != nil {
			return err
		}
		err = png.Encode(f, img)
		if e := f.Close(); err == nil {
			err = e
		}
		if err != nil {
			return err
		}
		defer os.Remove(name)
	}
	args := []string{"-y"}
	var graph, all strings.Builder
	input := 0
	for i, p := range parts {
		if p.length == 0 {
			args = append(args, "-framerate", "30", "-i", card)
			fmt.Fprintf(&graph, "[%d:v]scale=out_color_matrix=bt709,format=yuv420p,setsar=1,tpad=stop_mode=clone:stop_duration=%d,trim=duration=%d[v%d];", input, cardSeconds, cardSeconds, i)
			fmt.Fprintf(&graph, "anullsrc=r=48000:cl=stereo:d=%d[a%d];", cardSeconds, i)
			input++
		} else {
			args = append(args, "-ss", fmt.Sprintf("%.6f", p.from), "-t", fmt.Sprintf("%.6f", p.length), "-i", m.film)
			fmt.Fprintf(&graph, "[%d:a]aresample=48000,aformat=channel_layouts=stereo[a%d];", input, i)
			if p.bar {
				args = append(args, "-i", bar)
				fmt.Fprintf(&graph, "[%d:v]format=yuv420p,setsar=1,fps=30[f%d];[f%d][%d:v]overlay=x=0:y=%d[v%d];", input, i, i, input+1, m.h-m.h/12, i)
				input++
			} else {
				fmt.Fprintf(&graph, "[%d:v]format=yuv420p,setsar=1,fps=30[v%d];", input, i)
			}
			input++
		}
		fmt.Fprintf(&all, "[v%d][a%d]", i, i)
	}
	fmt.Fprintf(&graph, "%sconcat=n=%d:v=1:a=1[v][a]", all.String(), len(parts))
	args = append(args, "-filter_complex", graph.String(), "-map", "[v]", "-map", "[a]")
	form := reel.Format{Width: m.w, Height: m.h}
	form.Rate.Num, form.Rate.Den = 30, 1
	args = append(append(append(args, form.EncoderArgs()...), reel.SoundArgs()...), "-movflags", "+faststart", path)
	return m.o.Runner.Run(m.ctx, ffmpeg.Job{Args: args, Doing: "make a reel of", Subject: m.film})
}
