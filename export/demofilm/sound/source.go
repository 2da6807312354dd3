package sound

// block is one stretch of sound on its way: what reaches the microphones
// straight and what goes into the room.
type block struct {
	at     int64 // sample number of its start; negative while warming up
	direct [][]float64
	send   []float64
}

func newBlock(channels int) *block {
	b := &block{send: make([]float64, blockSize)}
	for range channels {
		b.direct = append(b.direct, make([]float64, blockSize))
	}
	return b
}

func (b *block) clear() {
	clear(b.send)
	for _, d := range b.direct {
		clear(d)
	}
}

// source adds its sound to one block after the other.
type source interface {
	fill(b *block)
}

// clock turns sample numbers into game time and back.
type clock struct {
	rate  float64
	start float64 // game time of sample 0, s
	speed float64 // film seconds per game second
}

func (c clock) game(sample int64) float64 { return c.start + float64(sample)/c.rate/c.speed }

func (c clock) film(game float64) float64 { return (game - c.start) * c.speed }

func (c clock) sample(game float64) float64 { return c.film(game) * c.rate }

// sounding is one thing that starts and ends: a blast, a squeak, a note.
type sounding interface {
	// add adds the samples from number at of the thing on.
	add(dst []float64, at int64)
}

// placed is a sounding thing with its place in the stream and its paths.
type placed struct {
	start, end  int64 // samples
	make        func() sounding
	left, right float64 // gain of the direct path
	send        float64 // gain into the room

	voice sounding
}

// events plays placed things in order of their start. It keeps only those that
// sound, besides the list.
type events struct {
	list    []*placed // by start
	next    int
	active  []*placed
	scratch []float64
}

func (e *events) fill(b *block) {
	if e.scratch == nil {
		e.scratch = make([]float64, blockSize)
	}
	end := b.at + blockSize
	for e.next < len(e.list) && e.list[e.next].start < end {
		if p := e.list[e.next]; p.end > b.at {
			e.active = append(e.active, p)
		}
		e.next++
	}
	kept := e.active[:0]
	for _, p := range e.active {
		if p.voice == nil {
			p.voice = p.make()
		}
		from, to := max(p.start, b.at), min(p.end, end)
		part := e.scratch[:to-from]
		clear(part)
		p.voice.add(part, from-p.start)
		b.mix(part, int(from-b.at), p.left, p.right, p.send)
		if p.end > end {
			kept = append(kept, p)
		} else {
			p.voice = nil
		}
	}
	e.active = kept
}

// mix adds a mono part with its gains.
func (b *block) mix(part []float64, at int, left, right, send float64) {
	dst := b.direct[0][at:][:len(part)]
	if len(b.direct) == 1 {
		left = (left + right) / 2
	} else {
		other := b.direct[1][at:][:len(part)]
		for i, x := range part {
			other[i] += right * x
		}
	}
	for i, x := range part {
		dst[i] += left * x
	}
	if send != 0 {
		dst = b.send[at:][:len(part)]
		for i, x := range part {
			dst[i] += send * x
		}
	}
}
