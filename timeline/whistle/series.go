package whistle

import (
	"math"
	"sort"
	"time"
)

// Lengths and gaps of signals (common practice, no source): short 0.15 to 0.4 s,
// long 0.7 to 1.5 s, rolling 1.5 to 3 s; gaps in a series 0.08 to 0.25 s.
const (
	shortLong   = 0.52 // s, as likely short as long
	longRolling = 1.55 // s, as likely long as rolling
	beatMost    = 0.70 // s, from onset to onset in a series
	echoMost    = 0.90 // s, from the end of one official's series to the start of another's
)

// strand is one official's blasts at a steady beat.
type strand struct {
	blasts []int
	long   bool
	merged bool
}

// group gathers blasts, sorted by their start, into series.
func group(blasts []Blast) []Series {
	strands := strandsOf(blasts)
	var out []Series
	for i := range strands {
		s := &strands[i]
		if s.merged {
			continue
		}
		if s.long {
			out = append(out, longSeries(blasts, s.blasts[0]))
			continue
		}
		all := append([]int(nil), s.blasts...)
		most := len(s.blasts)
		end := blasts[all[len(all)-1]].End
		for k := i + 1; k < len(strands); k++ {
			o := &strands[k]
			if o.long || o.merged {
				continue
			}
			if gap := (blasts[o.blasts[0]].Start - end).Seconds(); gap > echoMost {
				break
			} else if gap > 0 && most < 3 && len(o.blasts) < 3 {
				continue
			}
			o.merged = true
			all = append(all, o.blasts...)
			most = max(most, len(o.blasts))
			end = max(end, blasts[o.blasts[len(o.blasts)-1]].End)
		}
		out = append(out, shortSeries(blasts, all, most))
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Start < out[j].Start })
	return out
}

// strandsOf links short blasts of the same pitch that follow each other.
func strandsOf(blasts []Blast) []strand {
	var list []strand
	for i, b := range blasts {
		if b.Duration().Seconds() >= shortLong {
			list = append(list, strand{blasts: []int{i}, long: true})
			continue
		}
		best, off := -1, 0.08
		for k := len(list) - 1; k >= 0; k-- {
			s := &list[k]
			last := blasts[s.blasts[len(s.blasts)-1]]
			beat := (b.Start - last.Start).Seconds()
			if beat > 8 {
				break
			}
			if s.long || beat > beatMost || beat < 0.1 {
				continue
			}
			if d := math.Abs(b.Hz/last.Hz - 1); d < off {
				best, off = k, d
			}
		}
		if best < 0 {
			list = append(list, strand{blasts: []int{i}})
			continue
		}
		list[best].blasts = append(list[best].blasts, i)
	}
	return list
}

func longSeries(blasts []Blast, i int) Series {
	b := blasts[i]
	d := math.Log(b.Duration().Seconds())
	long := 1 / (1 + math.Exp(-(d-math.Log(shortLong))/0.12))
	rolling := 1 / (1 + math.Exp(-(d-math.Log(longRolling))/0.12))
	l := map[Kind]float64{Rolling: 0.94 * rolling, Long: 0.94 * (long - long*rolling), Unclear: 0.03, Pair: 0.01, Four: 0.01}
	l[Short] = max(0.01, 0.94*(1-long))
	return finishSeries(Series{Start: b.Start, End: b.End, Blasts: []int{i}, Likely: l}, b.Confidence)
}

// kindOf is how likely each kind is when n blasts of one official were heard:
// some are swallowed, some false (common practice, no source).
var kindOf = []map[Kind]float64{
	1: {Short: 0.86, Pair: 0.06, Four: 0.03, Long: 0.02, Unclear: 0.03},
	2: {Short: 0.07, Pair: 0.76, Four: 0.12, Long: 0.01, Unclear: 0.04},
	3: {Short: 0.01, Pair: 0.17, Four: 0.78, Unclear: 0.04},
	4: {Pair: 0.01, Four: 0.97, Unclear: 0.02},
}

func shortSeries(blasts []Blast, all []int, most int) Series {
	sort.Ints(all)
	// How many blasts there are, given that at least one is: each is one by its
	// confidence.
	count := []float64{1}
	none := 1.0
	for _, i := range all {
		c := min(0.995, blasts[i].Confidence)
		none *= 1 - c
		next := make([]float64, len(count)+1)
		for n, p := range count {
			next[n] += p * (1 - c)
			next[n+1] += p * c
		}
		count = next
	}
	l := map[Kind]float64{}
	for n := 1; n < len(count); n++ {
		k := min(n, 4)
		// Several officials' single blasts are not a pair.
		k = min(k, most+len(all)/4)
		w := count[n] / max(1e-9, 1-none)
		for kind, p := range kindOf[k] {
			l[kind] += w * p
		}
	}
	if len(all) == 1 {
		shiftToLong(l, blasts[all[0]].Duration().Seconds())
	}
	best, agree := 0.0, 1.0
	s := Series{Start: time.Duration(math.MaxInt64), Blasts: all, Likely: l}
	for _, i := range all {
		c := blasts[i].Confidence
		best = max(best, c)
		agree *= 1 - c
		s.Start = min(s.Start, blasts[i].Start)
		s.End = max(s.End, blasts[i].End)
	}
	// Blasts of a series are not independent witnesses: halfway between the best
	// of them and all of them.
	return finishSeries(s, (best+1-agree)/2)
}

// shiftToLong moves some of the odds of a lone blast to long, by its length.
func shiftToLong(l map[Kind]float64, d float64) {
	long := 1 / (1 + math.Exp(-(math.Log(max(d, 0.01))-math.Log(shortLong))/0.12))
	move := l[Short] * long
	l[Short] -= move
	l[Long] += move
}

// finishSeries names the likeliest kind; none likely enough is unsure.
func finishSeries(s Series, present float64) Series {
	sum := 0.0
	for _, p := range s.Likely {
		sum += p
	}
	s.Kind = Unclear
	best := 0.5
	for _, k := range []Kind{Short, Pair, Four, Long, Rolling} {
		s.Likely[k] /= sum
		if s.Likely[k] > best {
			s.Kind, best = k, s.Likely[k]
		}
	}
	s.Likely[Unclear] /= sum
	s.Confidence = present
	if s.Kind != Unclear {
		s.Confidence *= s.Likely[s.Kind]
	}
	return s
}
