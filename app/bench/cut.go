package bench

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"whistlecut/export/clip"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// CutOptions are for Cut.
type CutOptions struct {
	Runner *ffmpeg.Runner // nil: ffmpeg.Default()
	Dir    string         // where films and clips are made; "": a temporary folder, removed
	Seed   uint64
	Short  bool // a small film, few clips
	Encode int  // how many of the clips are encoded as a whole for comparison; 0: 4
}

// Cost is what a number of clips took.
type Cost struct {
	Clips     int
	Film      float64 // seconds of film in them
	CPU, Wall time.Duration
}

// per gives the cost of as much film as another one holds.
func (c Cost) per(film float64) Cost {
	if c.Film == 0 {
		return c
	}
	f := film / c.Film
	return Cost{c.Clips, film, time.Duration(float64(c.CPU) * f), time.Duration(float64(c.Wall) * f)}
}

// CutRow is what was measured on one film.
type CutRow struct {
	Group                  int // frames between key frames
	Megabits               float64
	Copy, Exact, Encode    Cost // Encode is measured on some clips only
	AlignedCopy, AlignedGo Cost
	Methods                map[clip.Method]int
}

// CutReport is the result of Cut.
type CutReport struct {
	Rows      []CutRow
	Index     time.Duration // tables of an hour's film read
	IndexRows int
	Open      time.Duration // the same film probed, fingerprinted and indexed
	Took      time.Duration
}

// cutPlan is the size of the measurement.
type cutPlan struct {
	w, h, frames, loops      int
	clips, encoded, aligned  int
	shortest, longest        float64 // seconds
	alignedSeconds, hourLoop int
}

func (o CutOptions) plan() cutPlan {
	if o.Short {
		return cutPlan{w: 640, h: 360, frames: 500, loops: 1, clips: 2, encoded: 1, aligned: 3, shortest: 3, longest: 6, alignedSeconds: 4, hourLoop: 3}
	}
	return cutPlan{w: 1920, h: 1080, frames: 1500, loops: 11, clips: 20, encoded: 4, aligned: 100, shortest: 20, longest: 60, alignedSeconds: 20, hourLoop: 71}
}

// Cut measures what exact clips cost beside plain copies and a full encode by
// ffmpeg, in the same run on the same films, and prints it.
func Cut(ctx context.Context, out io.Writer, o CutOptions) (CutReport, error) {
	began := time.Now()
	if o.Runner == nil {
		o.Runner = ffmpeg.Default()
	}
	dir, done, err := workFolder(o.Dir, "whistlecut-cut-*")
	if err != nil {
		return CutReport{}, err
	}
	defer done()
	o.Dir = dir
	var report CutReport
	plan := o.plan()
	if o.Encode > 0 {
		plan.encoded = min(o.Encode, plan.clips)
	}
	for _, group := range []int{30, 250} {
		row, err := cutFilm(ctx, out, o, plan, group)
		if err != nil {
			return report, err
		}
		report.Rows = append(report.Rows, row)
		printCutSum(out, row)
	}
	if err := indexHour(ctx, o, plan, &report); err != nil {
		return report, err
	}
	report.Took = time.Since(began)
	printCutFoot(out, report)
	return report, nil
}

// cutFilm makes a film with that distance of key frames and cuts it.
func cutFilm(ctx context.Context, out io.Writer, o CutOptions, p cutPlan, group int) (CutRow, error) {
	row := CutRow{Group: group, Methods: map[clip.Method]int{}}
	film := filepath.Join(o.Dir, fmt.Sprintf("group%d.mp4", group))
	if err := noisyFilm(ctx, o.Runner, film, p.w, p.h, p.frames, p.loops, group); err != nil {
		return row, err
	}
	defer os.Remove(film)
	s, err := clip.Open(ctx, o.Runner, film, clip.Options{})
	if err != nil {
		return row, err
	}
	defer s.Close()
	length := s.End(s.Frames() - 1).Seconds()
	if st, err := os.Stat(film); err == nil {
		row.Megabits = float64(st.Size()) * 8 / length / 1e6
	}
	fmt.Fprintf(out, "\n%dx%d, 30 frames a second, %.0f s, %.1f Mb/s, a key frame every %d, B-frames\n", p.w, p.h, length, row.Megabits, group)

	r := rand.New(rand.NewPCG(o.Seed, 3))
	var list []window
	for range p.clips {
		n := p.shortest + (p.longest-p.shortest)*r.Float64()
		from := r.Float64() * (length - n)
		first, last := s.Window(seconds(from), seconds(from+n))
		list = append(list, window{first, last})
	}
	m := &meter{ctx: ctx, o: o, s: s, film: film, out: filepath.Join(o.Dir, "clip.mp4")}
	defer os.Remove(m.out)
	printCutHead(out)
	if row.Copy, err = m.measure(list, m.plainCopy); err != nil {
		return row, err
	}
	printCost(out, "ffmpeg -c copy (not exact)", row.Copy, row.Copy)
	if row.Exact, err = m.measure(list, func(w window) error {
		res, err := s.Cut(ctx, clip.Request{First: w.first, Last: w.last, Out: m.out})
		row.Methods[res.Method]++
		return err
	}); err != nil {
		return row, err
	}
	printCost(out, fmt.Sprintf("exact clips (%d copied, %d edges, %d whole)", row.Methods[clip.Copied], row.Methods[clip.Edges], row.Methods[clip.Reencoded]), row.Exact, row.Copy)
	if row.Encode, err = m.measure(list[:p.encoded], m.fullEncode); err != nil {
		return row, err
	}
	printCost(out, "ffmpeg veryfast encode, scaled to all clips", row.Encode.per(row.Copy.Film), row.Copy)

	keys := keysOf(s.File().Index)
	list = list[:0]
	for range p.aligned {
		i := r.IntN(len(keys) - 1)
		j := i + 1
		for j < len(keys)-1 && s.Time(keys[j])-s.Time(keys[i]) < time.Duration(p.alignedSeconds)*time.Second {
			j++
		}
		list = append(list, window{keys[i], keys[j] - 1})
	}
	if row.AlignedCopy, err = m.measure(list, m.plainCopy); err != nil {
		return row, err
	}
	printCost(out, "between key frames: ffmpeg -c copy", row.AlignedCopy, row.AlignedCopy)
	row.AlignedGo, err = m.measure(list, func(w window) error {
		res, err := s.Cut(ctx, clip.Request{First: w.first, Last: w.last, Out: m.out})
		if err == nil && res.Method != clip.Copied {
			err = fmt.Errorf("a clip between key frames was made by %s: %s", res.Method, res.Why)
		}
		return err
	})
	printCost(out, "between key frames: exact", row.AlignedGo, row.AlignedCopy)
	return row, err
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// meter runs one way of cutting over windows.
type meter struct {
	ctx       context.Context
	o         CutOptions
	s         *clip.Source
	film, out string
}

func (m *meter) measure(list []window, cut func(window) error) (Cost, error) {
	c := Cost{Clips: len(list)}
	cpu, wall := cpuTime(), time.Now()
	for _, w := range list {
		if err := cut(w); err != nil {
			return c, err
		}
		c.Film += (m.s.End(w.last) - m.s.Time(w.first)).Seconds()
	}
	c.CPU, c.Wall = cpuTime()-cpu, time.Since(wall)
	return c, nil
}

// bounds are ffmpeg's input options for a window.
func (m *meter) bounds(w window) []string {
	from, to := m.s.Time(w.first), m.s.End(w.last)
	return []string{"-y", "-ss", fmt.Sprintf("%.6f", from.Seconds()), "-i", m.film, "-t", fmt.Sprintf("%.6f", (to - from).Seconds())}
}

func (m *meter) plainCopy(w window) error {
	return m.o.Runner.Run(m.ctx, ffmpeg.Job{Args: append(m.bounds(w), "-c", "copy", m.out), Doing: "copy", Subject: m.film})
}

func (m *meter) fullEncode(w window) error {
	args := append(m.bounds(w), "-c:v", "libx264", "-preset", "veryfast", "-crf", "19", "-c:a", "copy", m.out)
	return m.o.Runner.Run(m.ctx, ffmpeg.Job{Args: args, Doing: "encode", Subject: m.film})
}

// noisyFilm encodes some frames and repeats them by copying.
func noisyFilm(ctx context.Context, r *ffmpeg.Runner, path string, w, h, frames, loops, group int) error {
	once := path + ".once.mp4"
	defer os.Remove(once)
	length := float64(frames) / 30
	err := r.Run(ctx, ffmpeg.Job{
		Args: []string{
			"-y", "-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", fmt.Sprintf("%dx%d", w, h), "-r", "30", "-i", "pipe:0",
			"-f", "lavfi", "-i", fmt.Sprintf("sine=f=440:r=48000:d=%f", length), "-vf", "noise=c0s=6:c0f=t",
			"-c:v", "libx264", "-preset", "superfast", "-bf", "2", "-crf", "25", "-g", fmt.Sprint(group), "-keyint_min", fmt.Sprint(group),
			"-sc_threshold", "0", "-c:a", "aac", "-b:a", "128k", once,
		},
		Stdin: newPainter(w, h, frames), Doing: "make the film", Subject: path,
	})
	if err != nil {
		return err
	}
	return r.Run(ctx, ffmpeg.Job{
		Args:  []string{"-y", "-stream_loop", fmt.Sprint(loops), "-i", once, "-c", "copy", path},
		Doing: "make the film", Subject: path,
	})
}

// indexHour reads the tables of an hour's film. Its pictures are small: the
// time depends on their number alone.
func indexHour(ctx context.Context, o CutOptions, p cutPlan, report *CutReport) error {
	film := filepath.Join(o.Dir, "hour.mp4")
	if err := noisyFilm(ctx, o.Runner, film, 416, 240, 1500, p.hourLoop, 30); err != nil {
		return err
	}
	defer os.Remove(film)
	start := time.Now()
	if _, err := mp4.Open(film); err != nil {
		return err
	}
	report.Index = time.Since(start)
	start = time.Now()
	f, err := footage.Open(ctx, o.Runner, film)
	if err != nil {
		return err
	}
	report.Open, report.IndexRows = time.Since(start), f.Index.Len()
	return nil
}
