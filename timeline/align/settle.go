package align

import (
	"math"
	"slices"
	"time"
)

// settleReach is how far from where an unheard start was first put it is looked
// for; the start is put where most probability lies within settleClose; s.
const (
	settleReach = 4.0
	settleGrid  = 0.05
	settleClose = 0.25
)

// habit is how this bout's officials keep a time: how far from the nominal, and
// how evenly, seconds. Far is the share of times kept otherwise.
type habit struct{ mean, sd, far float64 }

// usual habits, and how many heard times they count for (common practice, no
// source).
var (
	usualLine  = habit{lineupOver, 1.3, 0.15}
	usualWatch = habit{0, 1.0, 0.15}
)

const (
	usualCounts = 2.0
	habitSpan   = 4.0 // s off the nominal that still tells of a habit
)

// learn draws the usual habit towards what was seen of it.
func (h habit) learn(seen []float64) habit {
	seen = slices.DeleteFunc(seen, func(x float64) bool { return math.Abs(x) > habitSpan })
	n := float64(len(seen))
	if n < 3 {
		return h
	}
	slices.Sort(seen)
	middle := seen[len(seen)/2]
	off := make([]float64, len(seen))
	for i, x := range seen {
		off[i] = math.Abs(x - middle)
	}
	slices.Sort(off)
	spread := 1.48 * off[len(off)/2] // of a normal distribution by its median deviation
	mean := (usualCounts*h.mean + n*middle) / (usualCounts + n)
	return habit{mean, math.Sqrt((usualCounts*h.sd*h.sd + n*spread*spread) / (usualCounts + n)), h.far}
}

// log is the log density of a time kept off by x.
func (h habit) log(x float64) float64 {
	return logAdd(math.Log(1-h.far)+logNormal(x, h.mean, h.sd), math.Log(h.far)+logNormal(x, h.mean, 5))
}

// edges are the nodes of a placed jam, -1 where there is none.
type edges struct{ start, end int }

// infer puts the starts that nobody heard where the line-up before and the written
// length say, by the habits that the heard jams of this bout show.
func (c *chain) infer(out []Placed, at []edges) {
	const sure = 0.6
	var lines, watches []float64
	for j := range out {
		heard := at[j].start >= 0 && out[j].StartHeard && out[j].Confidence > sure
		if !heard {
			continue
		}
		start := c.axisOf(&out[j], at[j].start)
		if b, ok := c.lineEnd(out, at, j); ok && out[j-1].Confidence > sure {
			lines = append(lines, start-b-c.lineup)
		}
		if want := secs(c.stages[j].Duration); want > 0 && out[j].EndHeard && at[j].end >= 0 {
			watches = append(watches, c.ends[at[j].end].at-start-want)
		}
	}
	line, watch := usualLine.learn(lines), usualWatch.learn(watches)
	for j := range out {
		if at[j].start < 0 || out[j].Hand {
			continue
		}
		if out[j].StartHeard {
			// Heard a second off what these officials keep, it may be another's whistle.
			b, ok := c.lineEnd(out, at, j)
			if ok && math.Abs(c.axisOf(&out[j], at[j].start)-b-c.lineup-line.mean) > max(2*line.sd, 0.8) {
				out[j].Confidence = min(out[j].Confidence, mostUnheard)
			}
			continue
		}
		s := &c.starts[at[j].start]
		if s.edge {
			continue
		}
		var sides []func(t float64) float64
		if b, ok := c.lineEnd(out, at, j); ok {
			sides = append(sides, func(t float64) float64 { return line.log(t - b - c.lineup) })
		}
		if want := secs(c.stages[j].Duration); want > 0 && out[j].EndHeard && at[j].end >= 0 && c.ends[at[j].end].island == s.island {
			e := c.ends[at[j].end].at
			sides = append(sides, func(t float64) float64 { return watch.log(e - t - want) })
		}
		when := c.axisOf(&out[j], at[j].start)
		if len(sides) > 0 {
			out[j].Start += time.Duration((settle(when, sides) - when) * float64(time.Second))
		}
	}
}

// axisOf is the axis time of a placed start, which may lie beside its node.
func (c *chain) axisOf(p *Placed, node int) float64 {
	_, at, _ := c.film(&c.starts[node])
	return c.starts[node].at + secs(p.Start-at)
}

// lineEnd is the heard end of the jam before j when nothing but the line-up lies
// between.
func (c *chain) lineEnd(out []Placed, at []edges, j int) (axis float64, ok bool) {
	if j == 0 || at[j].start < 0 || at[j-1].end < 0 || !out[j-1].EndHeard {
		return 0, false
	}
	a, b, e := &c.stages[j-1], &c.stages[j], &c.ends[at[j-1].end]
	if a.Period != b.Period || b.Overtime || a.Timeouts > 0 || e.island != c.starts[at[j].start].island {
		return 0, false
	}
	return e.at, true
}

// settle is the time near at round which most of the probability lies close by.
func settle(at float64, sides []func(t float64) float64) float64 {
	n := int(2*settleReach/settleGrid) + 1
	weights := make([]float64, n)
	most := minusInf
	for i := range weights {
		for _, f := range sides {
			weights[i] += f(at - settleReach + float64(i)*settleGrid)
		}
		most = max(most, weights[i])
	}
	sum := make([]float64, n+1)
	for i, w := range weights {
		sum[i+1] = sum[i] + math.Exp(w-most)
	}
	d := int(settleClose / settleGrid)
	best, share := 0, -1.0
	for i := range weights {
		if x := sum[min(i+d+1, n)] - sum[max(i-d, 0)]; x > share+1e-12 {
			best, share = i, x
		}
	}
	return at - settleReach + float64(best)*settleGrid
}
