package footage

import (
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// The small pictures compared at joints, and the sound: mono, in windows.
const (
	smallWidth, smallHeight = 160, 90
	earRate                 = 16000
	earWindow               = 4096 // samples: a quarter of a second
	earBands                = 8    // octaves, from the top of the range down
)

// readEnds reads what tells a file's place. Pictures and sound that can't be
// read are left out; it fails only when ctx ends.
func readEnds(ctx context.Context, f *File) (ends, error) {
	x, v := f.Index, f.Info.Video
	e := ends{
		name:     filepath.Base(f.Path),
		format:   formatOf(f.Info),
		interval: x.Interval(), length: x.Duration(), start: x.Start(),
		created: f.Info.Created,
	}
	e.timecode, e.hasCode = parseTimecode(f.Info.Timecode, v.Rate)
	if st, err := os.Stat(f.Path); err == nil {
		e.written = st.ModTime()
	}
	n := x.Playable()
	e.head = readSmall(ctx, f, 0, min(2, n))
	e.tail = readSmall(ctx, f, max(0, n-2), n)
	window := time.Second * earWindow / earRate
	e.headSound, e.headMoves = readBands(ctx, f, 0, false)
	// The last window may lack a little where sound ends before the picture.
	e.tailSound, e.tailMoves = readBands(ctx, f, max(0, soundEnd(f)-2*window), true)
	return e, ctx.Err()
}

// formatOf puts in words what files of one camera setting share.
func formatOf(i Info) string {
	a, _ := i.Sound()
	v := i.Video
	return fmt.Sprintf("%s %s %dx%d turned %d at %s, %s %d Hz %d channels",
		v.Codec, v.PixelFormat, v.StoredWidth, v.StoredHeight, v.Rotation, v.Rate, a.Codec, a.Rate, a.Channels)
}

func readSmall(ctx context.Context, f *File, from, to int) [][]byte {
	if from >= to {
		return nil
	}
	s, err := f.Frames(ctx, from, to, Picture{Width: smallWidth, Height: smallHeight, Format: Gray})
	if err != nil {
		return nil
	}
	defer s.Close()
	var list [][]byte
	for range to - from {
		p := make([]byte, s.Picture().Bytes())
		if _, err := s.Next(p); err != nil {
			return nil
		}
		list = append(list, p)
	}
	return list
}

// soundEnd is the film time at which picture and sound both still run.
func soundEnd(f *File) time.Duration {
	end := f.Index.Duration()
	if a, ok := f.Info.Sound(); ok && a.Duration > 0 {
		end = min(end, a.Start+a.Duration-f.Index.Start())
	}
	return end
}

// readBands measures two windows of sound from a film time on: the loudness in
// bands of the outer one is what matters at a joint, the distance of both says
// how quickly the sound changes there.
func readBands(ctx context.Context, f *File, from time.Duration, atEnd bool) (bands []float64, moves float64) {
	s, err := f.Sound(ctx, SoundFormat{Rate: earRate, Channels: 1}, from, from+2*time.Second*earWindow/earRate)
	if err != nil {
		return nil, 0
	}
	defer s.Close()
	data, err := io.ReadAll(s)
	if err != nil || len(data) < 4*earWindow*9/10 {
		return nil, 0
	}
	half := len(data) / 4 * 2
	first, second := bandsOf(samplesOf(data[:half])), bandsOf(samplesOf(data[half:]))
	moves = bandDistance(first, second)
	if atEnd {
		return second, moves
	}
	return first, moves
}

func samplesOf(data []byte) []float64 {
	list := make([]float64, len(data)/2)
	for i := range list {
		list[i] = float64(int16(binary.LittleEndian.Uint16(data[2*i:]))) / 32768
	}
	return list
}

// bandsOf measures the loudness in octaves by halving: the difference of
// neighbouring samples holds the upper half of the range, their mean the lower.
// (Haar's wavelet; common practice.) Values are dB below full scale, at least
// -90.
func bandsOf(samples []float64) []float64 {
	bands := make([]float64, earBands)
	for b := range bands {
		energy := 0.0
		half := len(samples) / 2
		for i := range half {
			x, y := samples[2*i], samples[2*i+1]
			energy += (x - y) * (x - y) / 4
			samples[i] = (x + y) / 2
		}
		samples = samples[:half]
		bands[b] = max(-90, 10*math.Log10(energy/float64(max(1, half))+1e-12))
	}
	return bands
}

// parseTimecode reads "HH:MM:SS:FF" as time since midnight. With ";" before the
// frames it is drop-frame time code (SMPTE ST 12-1), which follows the clock;
// without, at 29.97 and 59.94, it falls behind by one part in a thousand, and
// frames are counted.
func parseTimecode(code string, rate Rational) (time.Duration, bool) {
	fields := strings.FieldsFunc(code, func(r rune) bool { return r == ':' || r == ';' || r == '.' })
	if len(fields) != 4 || !rate.Known() {
		return 0, false
	}
	var n [4]int64
	for i, f := range fields {
		v, err := strconv.ParseInt(f, 10, 32)
		if err != nil || v < 0 {
			return 0, false
		}
		n[i] = v
	}
	if n[0] > 23 || n[1] > 59 || n[2] > 59 || rate.Float() < 1 {
		return 0, false
	}
	perSecond := int64(math.Round(rate.Float()))
	minutes := 60*n[0] + n[1]
	frames := (60*minutes+n[2])*perSecond + n[3]
	if strings.ContainsAny(code, ";.") {
		frames -= perSecond / 15 * (minutes - minutes/10)
	}
	return Rational{rate.Den, rate.Num}.Duration(frames), true
}
