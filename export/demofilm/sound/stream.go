package sound

import (
	"encoding/binary"
	"io"
	"math"
	"math/rand/v2"
	"time"
)

// Stream is the sound of one camera, made while it is read. It is used by one
// goroutine.
type Stream struct {
	rate, channels int
	truth          Truth
	total          int64 // samples per channel
	at             int64 // next sample to hand out; negative while warming up
	left           int   // samples of the block not handed out

	sources   []source
	room      room
	roomLevel float64
	rec       *recorder
	block     *block
	dropouts  [][2]int64
	dead      bool
}

// New prepares the sound of a schedule. It measures its sources first, to set
// the levels that o asks for: a second or two at most.
func New(s Schedule, o Options) (*Stream, error) {
	o = o.withDefaults(s)
	if err := o.check(); err != nil {
		return nil, err
	}
	clk := clock{rate: float64(o.Rate), start: o.Start.Seconds(), speed: 1 + o.Drift/1e6}
	st := &Stream{
		rate: o.Rate, channels: o.Channels, dead: o.DeadRight,
		total: int64(math.Round(o.Length.Seconds() * clk.speed * clk.rate)),
		block: newBlock(o.Channels),
	}
	set, decoys := o.blasts(s, clk), o.decoys(clk)
	st.truth = Truth{Blasts: set.truth.Blasts, Missing: set.truth.Missing, Decoys: decoys.truth}
	if o.Reverb > 0 {
		st.room, st.roomLevel = newRoom(o)
	}
	m := newMood(s, o.Start, o.Start+o.Length)
	levels := st.measure(o, set, m)
	st.rec = newRecorder(o.Channels, o.Rate, levels.record, o.AutoGain)
	if o.Part == All || o.Part == Background {
		for _, p := range o.background(clk, m) {
			p.set(levels.background * levels.parts[p.name])
			st.sources = append(st.sources, p.source)
		}
	}
	if o.Part == All || o.Part == Decoys {
		st.sources = append(st.sources, &events{list: decoys.list})
	}
	if o.Part == All || o.Part == Whistles {
		st.sources = append(st.sources, &events{list: set.list})
	}
	for _, d := range o.Dropouts {
		st.dropouts = append(st.dropouts, [2]int64{int64(d.Start.Seconds() * clk.rate), int64(d.End.Seconds() * clk.rate)})
	}
	// Start where music and announcer begin a piece, so that a later start sounds
	// the same as reading on from an earlier one.
	warm := o.Start.Seconds() - math.Floor(o.Start.Seconds()/cell)*cell
	blocks := int64(math.Ceil(warm * clk.speed * clk.rate / blockSize))
	st.at = -blocks * blockSize
	for ; blocks > 0; blocks-- {
		st.next()
		st.at += int64(st.left)
		st.left = 0
	}
	return st, nil
}

// newRoom returns a room of the family and how loud it is at the camera
// against the direct sound from 20 m. At the critical distance both are alike;
// whistle and microphone favour one direction, so it is taken as 0.1 sqrt(V/RT)
// m (0.057 without direction), V being 15000 m³.
func newRoom(o Options) (room, float64) {
	rt := o.Reverb.Seconds()
	level := nearM / (0.1 * math.Sqrt(15000/rt))
	r := random(o.Seed, "room", int64(o.Reverb))
	if o.Family == Evaluation {
		var h [][]float64
		for range o.Channels {
			h = append(h, newHallResponse(rt, rand.New(rand.NewPCG(r.Uint64(), 4)), o.Rate))
		}
		return newConvolver(h), level
	}
	return newNetwork(rt, r, o.Rate), level
}

// Truth lists what can be heard in the stream.
func (s *Stream) Truth() Truth { return s.truth }

// Rate is the number of samples a second, Channels of channels.
func (s *Stream) Rate() int { return s.rate }

// Channels is the number of interleaved channels.
func (s *Stream) Channels() int { return s.channels }

// Duration is the length of the stream in film time.
func (s *Stream) Duration() time.Duration { return seconds(float64(s.total) / float64(s.rate)) }

// next makes one more block, from s.at on.
func (s *Stream) next() {
	s.block.at = s.at
	s.block.clear()
	for _, src := range s.sources {
		src.fill(s.block)
	}
	s.reverberate()
	s.rec.process(s.block.direct)
	for _, d := range s.dropouts {
		from, to := max(0, d[0]-s.at), min(blockSize, d[1]-s.at)
		for _, c := range s.block.direct {
			if from < to {
				clear(c[from:to])
			}
		}
	}
	if s.dead && s.channels == 2 {
		clear(s.block.direct[1])
	}
	s.left = blockSize
}

// Read fills dst with interleaved samples in -1..1 and returns how many; io.EOF
// after the last. len(dst) must be a multiple of the channels.
func (s *Stream) Read(dst []float32) (int, error) {
	done := 0
	for done+s.channels <= len(dst) {
		if s.at >= s.total {
			break
		}
		if s.left == 0 {
			s.next()
		}
		from := blockSize - s.left
		n := min(s.left, (len(dst)-done)/s.channels, int(min(blockSize, s.total-s.at)))
		for ch, c := range s.block.direct {
			for i, x := range c[from : from+n] {
				dst[done+i*s.channels+ch] = float32(x)
			}
		}
		done += n * s.channels
		s.left -= n
		s.at += int64(n)
	}
	if done == 0 && len(dst) >= s.channels {
		return 0, io.EOF
	}
	return done, nil
}

// PCM reads the stream as signed 16-bit little-endian samples, as ffmpeg's
// s16le wants them.
func (s *Stream) PCM() io.Reader { return &pcm{stream: s} }

type pcm struct {
	stream *Stream
	buf    [8192]float32
	rest   []byte
	bytes  [16384]byte
}

func (p *pcm) Read(dst []byte) (int, error) {
	if len(p.rest) == 0 {
		n, err := p.stream.Read(p.buf[:])
		if err != nil {
			return 0, err
		}
		for i, x := range p.buf[:n] {
			binary.LittleEndian.PutUint16(p.bytes[2*i:], uint16(int16(math.Round(float64(x)*32767))))
		}
		p.rest = p.bytes[:2*n]
	}
	n := copy(dst, p.rest)
	p.rest = p.rest[n:]
	return n, nil
}
