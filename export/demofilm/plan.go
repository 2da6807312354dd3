package demofilm

import (
	"math"
	"time"

	"whistlecut/export/demofilm/picture"
	"whistlecut/timeline/simulate"
)

// take is one file of one camera before it is made.
type take struct {
	name     string
	camera   string
	order    int
	place    picture.Place
	start    time.Duration // game time of film time 0
	frames   int           // of the frame grid; a variable-rate file leaves some out
	rate     Fraction
	speed    float64 // film seconds per game second
	variable bool
}

// Names of the files: in alphabetical order they come in the wrong order.
const (
	firstName  = "stand-9.mp4"
	secondName = "stand-10.mp4"
	thirdName  = "phone.mp4"
	cornerName = "corner.mp4"
	standName  = "stand"
	endName    = "corner"
)

// plan cuts a game into takes. The first camera is stopped in the first timeout
// or review and started again before it ends; if there is none, in the longest
// line-up. The third take, on a phone, begins in the break between periods or in
// a later line-up.
func plan(g *simulate.Game, o Options) []take {
	begin, end := 2*time.Second, g.Duration()-time.Second
	whole := []take{newTake(firstName, standName, 0, picture.StandSide, begin, end, o.FrameRate, 0)}
	takes := whole
	if !o.OneFile {
		takes = cut(whole[0], pauses(g), end)
	}
	if len(takes) == 3 {
		takes[2].variable = true
	} else if len(takes) == 2 {
		takes[1].variable = true
	}
	if s := o.Second; s != nil {
		from := max(0, begin+s.After)
		takes = append(takes, newTake(cornerName, endName, 0, picture.StandEnd, from, g.Duration(), s.FrameRate, s.Drift))
	}
	return takes
}

func newTake(name, camera string, order int, place picture.Place, from, to time.Duration, rate Fraction, drift float64) take {
	t := take{name: name, camera: camera, order: order, place: place, start: from, rate: rate, speed: 1 + drift/1e6}
	t.frames = max(1, int(math.Floor((to-from).Seconds()*t.speed*rate.Float())))
	return t
}

// length is the film's duration.
func (t take) length() time.Duration { return t.rate.at(t.frames) }

// game is the game time of a film time.
func (t take) game(film time.Duration) time.Duration {
	return t.start + time.Duration(float64(film)/t.speed)
}

// film is the film time of a game time, which may lie outside the take.
func (t take) film(game time.Duration) time.Duration {
	return time.Duration(float64(game-t.start) * t.speed)
}

// pause is a stretch of game time that the camera does not record.
type pause struct{ from, to time.Duration }

// pauses finds where a person would stop the camera: never in a jam or within
// seconds of one.
func pauses(g *simulate.Game) []pause {
	var list []pause
	for _, s := range g.Truth.Stoppages {
		if p := (pause{s.Start + 6*time.Second, s.End - 5*time.Second}); p.to-p.from > 8*time.Second {
			list = append(list, p)
			break
		}
	}
	jams := g.Truth.Jams
	best := pause{}
	for i := 1; i < len(jams); i++ {
		// Line-ups from 8 s after a jam to 8 s before the next.
		p := pause{jams[i-1].End + 8*time.Second, jams[i].Start - 8*time.Second}
		if len(list) > 0 && p.from < list[0].to+time.Minute {
			continue
		}
		switch {
		case p.to-p.from < 3*time.Second:
		case jams[i].Period != jams[i-1].Period:
			return append(list, p) // half-time
		case best.to == 0 || len(list) == 0 && p.to-p.from > best.to-best.from:
			best = p
		}
	}
	if best.to > 0 {
		list = append(list, best)
	}
	return list
}

// cut parts a take at its pauses.
func cut(t take, pauses []pause, end time.Duration) []take {
	names := []string{firstName, secondName, thirdName}
	takes := []take{}
	from := t.start
	for i := 0; i <= len(pauses); i++ {
		to := end
		if i < len(pauses) {
			to = pauses[i].from
		}
		takes = append(takes, newTake(names[i], t.camera, i, t.place, from, to, t.rate, 0))
		if i < len(pauses) {
			from = pauses[i].to
		}
	}
	return takes
}

// A variable-rate file leaves frames out as phones do when light or time is
// short: single ones here and there, every second one for a while. kept says so
// in Go and selectFilter to ffmpeg; both count frames of the grid from 0.

const (
	dropModulus = 97
	dropBelow   = 13
	slowEvery   = 900 // frames: of so many, the last slowLength come at half rate
	slowLength  = 90
)

// kept reports whether frame n of the grid is in the file. First and last
// frames are.
func (t take) kept(n int) bool {
	if !t.variable || n == 0 || n == t.frames-1 {
		return true
	}
	scattered := (n*n*31+n*7)%dropModulus < dropBelow
	slow := n%slowEvery >= slowEvery-slowLength && n%2 == 1
	return !scattered && !slow
}
