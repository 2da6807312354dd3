package align

import (
	"math"
	"time"

	"whistlecut/timeline"
)

// How far past its nominal length a full jam's last blast ends, and a line-up's
// start whistle comes, seconds (common practice, no source).
//
// shortJam is the length below which hardly a jam ends, since the lead jammer has
// to get through the pack first.
const (
	shortJam   = 12.0
	fullOver   = 1.4
	lineupOver = 0.7
)

// logNormal is the log density at x of a normal distribution, per second.
func logNormal(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	return -0.5*z*z - math.Log(sd) - 0.9189385332046727 // log sqrt(2 pi)
}

func logAdd(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if a-b > 36 || a == minusInf {
		return a // what is left is below the precision
	}
	return a + math.Log1p(math.Exp(b-a))
}

// logJamLength is the log density, per second, of a jam's length from start blast
// to the end of the fourth blast, given what is known.
func (m *model) logJamLength(k *Known, d float64) float64 {
	if d < 2 || d > m.jamMax+8 {
		return math.Inf(-1)
	}
	if k.Duration > 0 {
		want := k.Duration.Seconds()
		// A stopwatch kept within a second or so, loosely kept ones within several,
		// and one in thirty written down wrong.
		p := logAdd(math.Log(0.72)+logNormal(d, want, 1.0), math.Log(0.24)+logNormal(d, want, 4))
		return logAdd(p, math.Log(0.04)+m.logFreeLength(k, d))
	}
	return m.logFreeLength(k, d)
}

// logFreeLength is the same without a written duration: a called or stopped jam
// follows a gamma distribution of mean 52 s and shape 3.2; a full jam's four
// begin at the jam length and take 1 to 2.5 s.
func (m *model) logFreeLength(k *Known, d float64) float64 {
	const shape, scale = 3.2, 52.0 / 3.2
	called := (shape-1)*math.Log(d) - d/scale - shape*math.Log(scale) - gammaLn(shape)
	if d < shortJam {
		called -= (shortJam - d) * 0.8
	}
	if d > m.jamMax {
		called -= (d - m.jamMax) * 3
	}
	full := logNormal(d, m.jamMax+fullOver, 0.9)
	share := 0.14 // of jams that go the full time
	switch {
	case k.Ended == timeline.EndTime:
		share = 0.97
	case k.Ended == timeline.EndUnknown && k.Lead == No:
		share = 0.75 // nobody can call it off
	case k.Ended != timeline.EndUnknown:
		share = 0.02
	}
	return logAdd(math.Log(1-share)+called, math.Log(share)+full)
}

func gammaLn(x float64) float64 { v, _ := math.Lgamma(x); return v }

// logBreak is the log density, per second, of the time from a jam's end to the
// next jam's start. Without a timeout it is the line-up's 30 s; each timeout adds
// its own length; between periods it is anything from some minutes.
func (m *model) logBreak(k, next *Known, d float64) float64 {
	if d < 3 {
		return math.Inf(-1)
	}
	line := m.lineup
	if next.Overtime {
		line = m.overtime
	}
	plain := logAdd(math.Log(0.8)+logNormal(d, line+lineupOver, 1.3), math.Log(0.2)+logNormal(d, line+2, 5))
	stop := logTimeout(d, line)
	anything := math.Log(1e-4) - d/900
	if short := 0.7*line - d; short > 0 {
		anything -= 1.5 * short // the rules give the teams the whole line-up
	}
	if next.Period != k.Period && next.Period > 0 && k.Period > 0 {
		// Half-time: 5 to 20 minutes as a rule; demo films and scrimmages are shorter.
		return logAdd(math.Log(0.9)+logSpread(d, 45, 2400), anything)
	}
	switch {
	case k.Timeouts == 0:
		return logAdd(logAdd(math.Log(0.95)+plain, math.Log(0.04)+stop), math.Log(0.01)+anything)
	case k.Timeouts > 0:
		return logAdd(logAdd(math.Log(0.93)+stop, math.Log(0.03)+plain), math.Log(0.04)+anything)
	}
	return logAdd(logAdd(math.Log(0.84)+plain, math.Log(0.14)+stop), math.Log(0.02)+anything)
}

// logTimeout is a break with timeouts: at least some 40 s in all, long-tailed.
func logTimeout(d, line float64) float64 {
	x := d - 10
	if x < 5 {
		return -30
	}
	// Log-normal around 115 s.
	z := (math.Log(x) - math.Log(85+line)) / 0.55
	return -0.5*z*z - math.Log(x*0.55) - 0.9189385332046727
}

// logSpread is log-uniform between lo and hi with soft ends.
func logSpread(d, lo, hi float64) float64 {
	p := -math.Log(d) - math.Log(math.Log(hi/lo))
	switch {
	case d < lo:
		p -= 4 * math.Log(lo/d)
	case d > hi:
		p -= 4 * math.Log(d/hi)
	}
	return p
}

// logHole is the break when the camera was off in between: the known part is
// shown seconds long, the hole adds an unknown time. It is a probability (the
// chance of the break being at least so long), not a density, times the density
// of a start within what is left of the break.
func (m *model) logHole(k, next *Known, shown float64) float64 {
	if shown <= 0 {
		return math.Log(1.0 / 30)
	}
	best := math.Inf(-1)
	for extra := 1.0; extra <= 1200; extra *= 1.5 {
		best = logAdd(best, m.logBreak(k, next, shown+extra)+math.Log(extra*0.4))
	}
	return best + math.Log(1.0/30)
}

func secs(d time.Duration) float64 { return d.Seconds() }
