package footage

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// ends is what is known of one file for putting it in order: facts of the
// container and what is seen and heard at its two ends. What could not be read
// is left empty and counts for nothing.
type ends struct {
	name     string
	format   string        // picture and sound format in words; equal for files of one setting
	interval time.Duration // between frames
	length   time.Duration
	start    time.Duration // container time of the first frame
	timecode time.Duration // of the first frame, time since midnight
	hasCode  bool
	created  time.Time // the camera's clock; zero when unknown
	written  time.Time // the disk's clock; zero when unknown

	head, tail [][]byte  // two small grey pictures: first two, last two
	headSound  []float64 // loudness in bands, dB
	tailSound  []float64
	headMoves  float64 // distance of neighbouring windows, dB
	tailMoves  float64
}

// link is how well one file goes on in another.
type link struct {
	score      float64 // natural logarithm of a likelihood ratio
	continuous bool
	why        []string
}

// linksOf weighs every two files.
func linksOf(files []ends) [][]link {
	pictures := typical(files, func(a, b ends) (float64, bool) { return pictureDistance(a, b) })
	sounds := typical(files, func(a, b ends) (float64, bool) { return soundDistance(a, b) })
	links := make([][]link, len(files))
	for i := range files {
		links[i] = make([]link, len(files))
		for j := range files {
			if i != j {
				links[i][j] = weigh(files[i], files[j], pictures, sounds)
			}
		}
	}
	return links
}

// typical is the middle distance of ends that mostly don't belong together: the
// scale against which a small distance counts; 0 when nothing could be compared.
func typical(files []ends, distance func(a, b ends) (float64, bool)) float64 {
	var all []float64
	for i := range files {
		for j := range files {
			if d, ok := distance(files[i], files[j]); ok && i != j {
				all = append(all, d)
			}
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)*3/4] // the upper quartile: true joints are below
}

// Weights of the evidence, as natural logarithms of likelihood ratios.
const (
	weightClockFits  = 9.0 // times that follow on to the frame
	weightClockLater = 3.0 // times that follow after a pause
	weightStamp      = 1.0 // a clock's date and hour: often wrong, sometimes of the copy
	weightWritten    = 0.5
	weightFormat     = 1.5
	weightPictureMax = 6.0
	weightSoundMax   = 2.5
	weightAlike      = 0.6
)

func weigh(a, b ends, pictures, sounds float64) link {
	var l link
	add := func(score float64, format string, args ...any) {
		l.score += score
		if score > 0 {
			l.why = append(l.why, fmt.Sprintf(format, args...))
		}
	}
	if a.format != b.format {
		l.score -= weightFormat
	}
	fits := false
	if a.start != b.start {
		switch gap := b.start - a.start - a.length; {
		case gap.Abs() <= slack(a, b):
			add(weightClockFits, "stream times go on without a gap")
			fits = true
		case gap > 0 && gap < halfDay:
			add(weightClockLater/2, "stream times go on after %v", gap.Round(time.Second))
		case a.start > minStart && b.start > minStart:
			l.score -= weightClockLater / 2
		}
	}
	if a.hasCode && b.hasCode && a.timecode != b.timecode {
		gap := b.timecode - a.timecode - a.length
		switch {
		case gap < -halfDay:
			gap += 2 * halfDay
		case gap > halfDay:
			gap -= 2 * halfDay
		}
		switch {
		case gap.Abs() <= slack(a, b):
			add(weightClockFits, "time codes go on without a gap")
			fits = true
		case gap > 0:
			add(weightClockLater, "time codes go on after %v", gap.Round(time.Second))
		default:
			l.score -= weightClockLater
		}
	}
	picture, joined := pictureEvidence(a, b, pictures)
	switch {
	case joined:
		add(picture, "the picture goes on")
	default:
		add(picture, "the pictures are alike")
	}
	heard, sounded := soundEvidence(a, b, sounds)
	switch {
	case sounded:
		add(heard, "the sound goes on")
	default:
		add(heard, "the sound is alike")
	}
	l.continuous = fits || joined && heard > -weightAlike/4
	add(stampEvidence(a.created, b.created, a.length, weightStamp), "the camera's clock says so")
	if a.created.IsZero() || b.created.IsZero() {
		add(stampEvidence(a.written, b.written, 0, weightWritten), "the files were written in that order")
	}
	return l
}

const (
	halfDay = 12 * time.Hour
	// minStart tells a stream clock that runs on from one that begins anew in
	// each file, at zero or a little later.
	minStart = 5 * time.Second
)

// slack is how far two times that follow on may be apart: a frame or two, and
// sound packets at the end.
func slack(a, b ends) time.Duration {
	return max(2*max(a.interval, b.interval), 100*time.Millisecond)
}

// stampEvidence weighs two dates. A second file that is dated before the first
// one has ended speaks a little less for the order.
func stampEvidence(a, b time.Time, length time.Duration, weight float64) float64 {
	if a.IsZero() || b.IsZero() || a.Equal(b) {
		return 0
	}
	switch gap := b.Sub(a); {
	case gap < 0:
		return -weight
	case gap < length-2*time.Second:
		return weight / 4
	}
	return weight
}

// pictureDistance is the mean difference of the last picture of a and the first
// of b in grey values.
func pictureDistance(a, b ends) (float64, bool) {
	if len(a.tail) == 0 || len(b.head) == 0 {
		return 0, false
	}
	return greyDistance(a.tail[len(a.tail)-1], b.head[0]), true
}

func greyDistance(p, q []byte) float64 {
	if len(p) != len(q) || len(p) == 0 {
		return 255
	}
	sum := 0
	for i := range p {
		sum += max(int(p[i])-int(q[i]), int(q[i])-int(p[i]))
	}
	return float64(sum) / float64(len(p))
}

// greyNoise is the distance that coding alone makes between two pictures of a
// scene at rest, in grey values (measured on x264 at usual quality).
const greyNoise = 0.7

// pictureEvidence asks whether the step over the joint is like the steps beside
// it, or like the step between unrelated moments.
func pictureEvidence(a, b ends, typical float64) (score float64, joined bool) {
	d, ok := pictureDistance(a, b)
	if !ok || typical == 0 {
		return 0, false
	}
	step := 1.0
	for _, pair := range [][][]byte{a.tail, b.head} {
		beside := greyNoise
		if len(pair) == 2 {
			beside = max(beside, greyDistance(pair[0], pair[1]))
		}
		step *= math.Sqrt(beside)
	}
	return stepEvidence(max(d, greyNoise), step, typical, weightPictureMax)
}

// stepSpread is how much steps within a shot differ from one to the next, as the
// standard deviation of their logarithm.
const stepSpread = 0.6

// stepEvidence is the logarithm of a likelihood ratio: the density of a distance
// within a shot, log-normal around the steps beside it, over that between
// moments, Erlang of order four, which is small near zero.
func stepEvidence(d, step, typical, most float64) (score float64, joined bool) {
	if typical <= 2*step {
		return 0, false // everything is alike: nothing can be told
	}
	d = max(d, step/4)
	off := math.Log(d/step) / stepSpread
	within := math.Exp(-off*off/2) / (d * stepSpread * math.Sqrt(2*math.Pi))
	quarter := typical / 4
	between := math.Pow(d/quarter, 3) / (6 * quarter) * math.Exp(-d/quarter)
	score = math.Log(within / between)
	if joined = score > 0 && d <= 2.5*step; joined {
		return min(score, most), true
	}
	// Not a step within a shot. After a pause the view may still be more alike
	// than between other moments; a camera that pans comes back to the same view
	// at other times, too, so that counts little.
	return weightAlike * max(-1, 1-d/typical), false
}

// soundDistance is the root mean square of the differences in all bands, dB.
func soundDistance(a, b ends) (float64, bool) {
	if len(a.tailSound) == 0 || len(a.tailSound) != len(b.headSound) {
		return 0, false
	}
	return bandDistance(a.tailSound, b.headSound), true
}

func bandDistance(p, q []float64) float64 {
	sum := 0.0
	for i := range p {
		sum += (p[i] - q[i]) * (p[i] - q[i])
	}
	return math.Sqrt(sum / float64(len(p)))
}

// soundEvidence does for the sound what pictureEvidence does for the picture, at
// half the weight: a hall sounds alike at many times, and one whistle at a joint
// makes it differ.
func soundEvidence(a, b ends, typical float64) (score float64, joined bool) {
	d, ok := soundDistance(a, b)
	if !ok || typical == 0 {
		return 0, false
	}
	step := math.Sqrt(max(1, a.tailMoves) * max(1, b.headMoves))
	score, joined = stepEvidence(max(d, 1), step, typical, 2*weightSoundMax)
	return score / 2, joined
}
