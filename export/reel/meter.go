package reel

import (
	"sync"
	"time"
)

// meter tells progress.
type meter struct {
	mu       sync.Mutex
	tell     func(Progress)
	began    time.Time
	frames   []int
	done     []float64
	all      int
	ended    int
	kept     float64 // part of the whole that cost nothing
	fraction float64
}

// Parts of the whole that the sections, the sound and the writing take.
const (
	sectionsPart = 0.96
	soundPart    = 0.02
)

func (t *meter) begin(tell func(Progress), jobs []*job) {
	t.tell, t.began = tell, time.Now()
	t.done = make([]float64, len(jobs))
	for _, j := range jobs {
		t.frames = append(t.frames, j.frames)
		t.all += j.frames
	}
}

func (t *meter) finished(j *job) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.ended++
	if j.kept {
		t.kept += sectionsPart * float64(j.frames) / float64(t.all)
	}
	t.done[j.at] = 1
	t.say(j.at)
}

// section says how far a section is, 0..1.
func (t *meter) section(j *job, part float64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if part > t.done[j.at] {
		t.done[j.at] = min(part, 1)
		t.say(j.at)
	}
}

// rest says how far the sound or the writing is.
func (t *meter) rest(fraction float64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.fraction = max(t.fraction, fraction)
	t.say(len(t.done))
}

func (t *meter) say(at int) {
	sum := 0.0
	for i, d := range t.done {
		sum += d * float64(t.frames[i])
	}
	t.fraction = max(t.fraction, sectionsPart*sum/float64(t.all))
	if t.tell == nil {
		return
	}
	p := Progress{Section: at, Of: len(t.done), Finished: t.ended, Fraction: t.fraction}
	worked := t.fraction - t.kept
	if took := time.Since(t.began); took > time.Second && worked > 0.01 {
		p.Left = time.Duration(float64(took) * (1 - t.fraction) / worked)
	}
	t.tell(p)
}
