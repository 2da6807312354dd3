package reel

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"whistlecut/timeline/footage/ffmpeg"
)

// runner is ffmpeg; tests that need it are skipped where it is missing.
func runner(t testing.TB) *ffmpeg.Runner {
	t.Helper()
	r := ffmpeg.Default()
	if _, err := r.Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
	return r
}

var filmDir = sync.OnceValues(func() (string, error) { return os.MkdirTemp("", "whistlecut-reel-test-*") })

func TestMain(m *testing.M) {
	code := m.Run()
	if dir, err := filmDir(); err == nil {
		_ = os.RemoveAll(dir)
	}
	os.Exit(code)
}

// A frame's number is drawn as a row of blocks, its bits, over a row of their
// complement. It sits in the top left corner, as blocks of a 20th of the width,
// so that it is read back from a picture of any size.
const (
	codeBits = 12
	codeWide = 20 // blocks across the picture
)

// painter gives raw frames in 4:2:0: a drifting texture with the number.
type painter struct {
	w, h, frames, from int
	n, pos             int
	buf                []byte
}

func (p *painter) Read(b []byte) (int, error) {
	if p.pos == len(p.buf) {
		if p.n == p.frames {
			return 0, io.EOF
		}
		p.paint()
		p.n, p.pos = p.n+1, 0
	}
	n := copy(b, p.buf[p.pos:])
	p.pos += n
	return n, nil
}

func (p *painter) paint() {
	if p.buf == nil {
		p.buf = make([]byte, p.w*p.h*3/2)
	}
	for y := range p.h {
		for x := range p.w {
			p.buf[y*p.w+x] = byte(60 + ((x+3*p.n)^(y+p.n))&63)
		}
	}
	for i := p.w * p.h; i < len(p.buf); i++ {
		p.buf[i] = 128
	}
	n, side := p.n+p.from, p.w/codeWide
	for b := range codeBits {
		for y := range 2 * side {
			v := byte(40)
			if (n>>b&1 == 1) == (y < side) {
				v = 210
			}
			for x := range side {
				p.buf[y*p.w+b*side+x] = v
			}
		}
	}
}

// readCode reads the number of a frame in a part of a grey picture; -1 is none.
func readCode(pix []byte, stride int, part image.Rectangle) int {
	side := part.Dx() / codeWide
	mean := func(b, row int) int {
		sum, n := 0, 0
		for y := side / 4; y < side*3/4; y++ {
			for x := side / 4; x < side*3/4; x++ {
				sum += int(pix[(part.Min.Y+row*side+y)*stride+part.Min.X+b*side+x])
				n++
			}
		}
		return sum / n
	}
	n := 0
	for b := range codeBits {
		up, down := mean(b, 0), mean(b, 1)
		if max(up, down) < 160 || min(up, down) > 100 {
			return -1
		}
		if up > down {
			n |= 1 << b
		}
	}
	return n
}

// spec is a test film.
type spec struct {
	name   string
	w, h   int
	rate   string
	frames int
	from   int // number of the first frame
	clicks []float64
	silent bool
	video  []string
	sound  []string
	filter string
	output []string
}

var (
	filmMu sync.Mutex
	films  = map[string]string{}
)

// film makes a test film once.
func film(t testing.TB, s spec) string {
	t.Helper()
	r := runner(t)
	filmMu.Lock()
	defer filmMu.Unlock()
	if p, ok := films[s.name]; ok {
		return p
	}
	dir, err := filmDir()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, s.name)
	args := []string{"-y", "-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", fmt.Sprintf("%dx%d", s.w, s.h), "-r", s.rate, "-i", "pipe:0"}
	if !s.silent {
		wav := filepath.Join(dir, "clicks.wav")
		if err := os.WriteFile(wav, clicks(float64(s.frames)/rateOfText(s.rate), s.clicks), 0o666); err != nil {
			t.Fatal(err)
		}
		args = append(args, "-i", wav)
		if s.sound == nil {
			s.sound = []string{"-c:a", "aac", "-b:a", "128k"}
		}
		args = append(args, s.sound...)
	}
	if s.filter != "" {
		args = append(args, "-vf", s.filter)
	}
	if s.video == nil {
		s.video = []string{"-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-g", "25", "-bf", "2"}
	}
	args = append(append(append(args, s.video...), s.output...), ffmpeg.Local(path))
	if err := r.Run(context.Background(), ffmpeg.Job{Args: args, Stdin: &painter{w: s.w, h: s.h, frames: s.frames, from: s.from}}); err != nil {
		t.Fatal(err)
	}
	films[s.name] = path
	return path
}

func rateOfText(s string) float64 {
	a, b, ok := strings.Cut(s, "/")
	var x, y float64
	fmt.Sscan(a, &x)
	if y = 1; ok {
		fmt.Sscan(b, &y)
	}
	return x / y
}

// clicks is a WAV file of clicks.
func clicks(seconds float64, times []float64) []byte {
	n := int(seconds * soundRate)
	data := make([]int16, n)
	for _, t := range times {
		from := int(t * soundRate)
		for i := range soundRate * 6 / 1000 {
			if from+i < n {
				data[from+i] = int16(26000 * math.Sin(2*math.Pi*2500*float64(i)/soundRate))
			}
		}
	}
	le := binary.LittleEndian
	b := le.AppendUint32([]byte("RIFF"), uint32(36+2*n))
	b = append(b, "WAVEfmt "...)
	b = le.AppendUint32(b, 16)
	b = le.AppendUint16(le.AppendUint16(b, 1), 1)
	b = le.AppendUint32(le.AppendUint32(b, soundRate), 2*soundRate)
	b = le.AppendUint16(le.AppendUint16(b, 2), 16)
	b = append(b, "data"...)
	b = le.AppendUint32(b, uint32(2*n))
	for _, v := range data {
		b = le.AppendUint16(b, uint16(v))
	}
	return b
}

// numbers reads the frame numbers of a reel back from a part of its pictures, in
// strict decoding.
func numbers(t testing.TB, path string, w, h int, parts ...image.Rectangle) [][]int {
	t.Helper()
	var log bytes.Buffer
	out := make([][]int, len(parts))
	sink := &frameSink{size: w * h, frame: func(pix []byte) {
		for i, p := range parts {
			out[i] = append(out[i], readCode(pix, w, p))
		}
	}}
	err := runner(t).Run(context.Background(), ffmpeg.Job{
		Args: []string{
			"-xerror", "-err_detect", "explode", "-i", ffmpeg.Local(path), "-map", "0:v:0", "-fps_mode", "passthrough",
			"-pix_fmt", "gray", "-f", "rawvideo", "pipe:1",
		},
		Stdout: sink, Log: &log,
	})
	if err != nil || log.Len() > 0 {
		t.Fatalf("decoding: %v %s", err, log.String())
	}
	return out
}

type frameSink struct {
	size  int
	frame func([]byte)
	rest  []byte
}

func (s *frameSink) Write(b []byte) (int, error) {
	s.rest = append(s.rest, b...)
	for len(s.rest) >= s.size {
		s.frame(s.rest[:s.size])
		s.rest = s.rest[:copy(s.rest, s.rest[s.size:])]
	}
	return len(b), nil
}

// clicksOf gives the times in seconds at which clicks begin in a reel.
func clicksOf(t testing.TB, path string) []float64 {
	t.Helper()
	var pcm bytes.Buffer
	err := runner(t).Run(context.Background(), ffmpeg.Job{
		Args: []string{
			"-xerror", "-err_detect", "explode", "-i", ffmpeg.Local(path), "-map", "0:a:0", "-af", "aresample=async=1:first_pts=0",
			"-ac", "1", "-ar", fmt.Sprint(soundRate), "-f", "s16le", "pipe:1",
		},
		Stdout: &pcm,
	})
	if err != nil {
		t.Fatal(err)
	}
	var out []float64
	quiet := soundRate
	for i := 0; i+1 < pcm.Len(); i += 2 {
		v := int(int16(binary.LittleEndian.Uint16(pcm.Bytes()[i:])))
		if v > 7000 || v < -7000 {
			if quiet > soundRate/20 {
				out = append(out, float64(i/2)/soundRate)
			}
			quiet = 0
		} else {
			quiet++
		}
	}
	return out
}

// probed is what ffprobe says about a reel.
type probed struct {
	Format struct {
		Duration string
		Tags     map[string]string
	}
	Streams []struct {
		Index        int
		CodecType    string `json:"codec_type"`
		CodecName    string `json:"codec_name"`
		Profile      string
		PixFmt       string `json:"pix_fmt"`
		Width        int
		Height       int
		RealRate     string `json:"r_frame_rate"`
		AverageRate  string `json:"avg_frame_rate"`
		Duration     string
		Frames       string `json:"nb_frames"`
		StartTime    string `json:"start_time"`
		SampleRate   string `json:"sample_rate"`
		Channels     int
		ColorSpace   string `json:"color_space"`
		Disposition  map[string]int
		FieldOrder   string `json:"field_order"`
		SampleAspect string `json:"sample_aspect_ratio"`
	}
	Chapters []struct {
		StartTime string `json:"start_time"`
		EndTime   string `json:"end_time"`
		Tags      map[string]string
	}
}

func probe(t testing.TB, path string) probed {
	t.Helper()
	b, err := runner(t).Probe(context.Background(), append([]string{"-show_format", "-show_streams", "-show_chapters", "-of", "json"}, ffmpeg.Input(path)...)...)
	if err != nil {
		t.Fatal(err)
	}
	var p probed
	if err := json.Unmarshal(b, &p); err != nil {
		t.Fatal(err)
	}
	return p
}

// plate is a card of one colour.
func plate(w, h int, c color.Color) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, c)
		}
	}
	return img
}
