package bench

import (
	"fmt"
	"time"

	"whistlecut/app/play"
	"whistlecut/timeline/footage"
)

// On a busy machine a measurement ends after budget, once enough tries are made.
const (
	budget = 45 * time.Second
	enough = 4
)

// seeks times seeks answered by a decoder, each beside ffmpeg alone doing the
// same, in turns.
func (m *screenMeter) seeks(row *ScreenRow) error {
	var ours, bare []time.Duration
	x := m.file.Index
	began := time.Now()
	for k := range m.p.seeks {
		if k >= enough && time.Since(began) > budget {
			break
		}
		i := m.r.IntN(x.Len())
		if k%2 == 0 {
			d, err := m.bare(i)
			if err != nil {
				return err
			}
			bare = append(bare, d)
		}
		d, err := m.timed(func() { m.player.Seek(screenID, x.Time(i)) }, i)
		if err != nil {
			return err
		}
		ours = append(ours, d)
		if k%2 == 1 {
			// What the player decodes ahead must be over, or it is measured, too.
			if err := m.quiet(); err != nil {
				return err
			}
			if d, err = m.bare(i); err != nil {
				return err
			}
			bare = append(bare, d)
		}
		if err := m.quiet(); err != nil {
			return err
		}
	}
	row.Source, row.Bare = spreadOf(ours), spreadOf(bare)
	m.print("seek, ffmpeg alone", row.Bare, "")
	m.print("seek in the film", row.Source, fmt.Sprintf("%.2f of ffmpeg alone; aim 1.15", float64(row.Source.P50)/float64(max(1, row.Bare.P50))))
	return nil
}

// quiet waits until the player's children have nothing to do: their processor
// time stands still.
func (m *screenMeter) quiet() error {
	for end := time.Now().Add(3 * time.Second); time.Now().Before(end); {
		before := childrenTime()
		if err := m.rest(400 * time.Millisecond); err != nil {
			return err
		}
		if d := childrenTime() - before; d >= 0 && d < 20*time.Millisecond {
			break
		}
	}
	return nil
}

// bare starts ffmpeg for one frame, as the player does, and waits for all of it.
func (m *screenMeter) bare(i int) (time.Duration, error) {
	s := m.player.Shown()
	start := time.Now()
	f, err := m.file.Frames(m.ctx, i, i+1, footage.Picture{Width: s.Image.Rect.Dx(), Height: s.Image.Rect.Dy()})
	if err != nil {
		return 0, err
	}
	defer f.Close()
	if _, err := f.Next(make([]byte, f.Picture().Bytes())); err != nil {
		return 0, err
	}
	return time.Since(start), nil
}

// steps times single steps over frames decoded ahead.
func (m *screenMeter) steps(row *ScreenRow) error {
	x := m.file.Index
	at := x.Len() / 3
	if _, err := m.timed(func() { m.player.Seek(screenID, x.Time(at)) }, at); err != nil {
		return err
	}
	if err := m.rest(time.Second); err != nil {
		return err
	}
	if err := m.quiet(); err != nil {
		return err
	}
	var forward, back []time.Duration
	began := time.Now()
	for k := range m.p.steps / 10 {
		if k > 0 && time.Since(began) > budget {
			break
		}
		for k := range 10 {
			step, list := 1, &forward
			if k >= 5 {
				step, list = -1, &back
			}
			at += step
			d, err := m.timed(func() { m.player.Step(step) }, at)
			if err != nil {
				return err
			}
			*list = append(*list, d)
		}
		// And on into what lies before.
		at -= 4
		if _, err := m.timed(func() { m.player.Step(-4) }, at); err != nil {
			return err
		}
	}
	row.Forward, row.Back = spreadOf(forward), spreadOf(back)
	m.print("step forward over decoded frames", row.Forward, "20, 50")
	m.print("step back", row.Back, "20, 50")
	return nil
}

// jumps times going to the next or the previous of a row of places far apart, twice
// on and once back, as one goes from jam to jam: the player is told of both
// neighbours, as the desk tells it, and decodes them ahead while it rests.
func (m *screenMeter) jumps(row *ScreenRow) error {
	x := m.file.Index
	apart := x.Len() / (m.p.jumps + 3) / 2
	place := func(i int) int { return x.Len()/3 + i*apart }
	var list []time.Duration
	began := time.Now()
	at := 0
	for k := range m.p.jumps {
		if k >= enough && time.Since(began) > budget {
			break
		}
		m.player.Ahead([]play.Spot{{Footage: screenID, Film: x.Time(place(at + 1))}, {Footage: screenID, Film: x.Time(place(at - 1))}})
		if err := m.rest(time.Second); err != nil {
			return err
		}
		if err := m.quiet(); err != nil {
			return err
		}
		if k%3 == 2 {
			at--
		} else {
			at++
		}
		d, err := m.timed(func() { m.player.Seek(screenID, x.Time(place(at))) }, place(at))
		if err != nil {
			return err
		}
		list = append(list, d)
	}
	m.player.Ahead(nil)
	row.Jump = spreadOf(list)
	m.print("next or previous jam, decoded ahead", row.Jump, "100")
	return nil
}

// play counts frames while playing at normal speed.
func (m *screenMeter) play(row *ScreenRow) error {
	x := m.file.Index
	from := x.FrameAt(x.Duration() / 2)
	if _, err := m.timed(func() { m.player.Seek(screenID, x.Time(from)) }, from); err != nil {
		return err
	}
	if err := m.quiet(); err != nil {
		return err
	}
	before := m.player.Stats()
	m.mu.Lock()
	m.arrive = 0
	m.mu.Unlock()
	cpu, start := cpuTime()+childrenTime(), time.Now()
	m.player.Play()
	end := x.FrameAt(x.Time(from) + m.p.play)
	if err := m.until(func(s play.Shown) bool { return s.Index >= end }, "the end of playing"); err != nil {
		return err
	}
	row.PlayedShare = (cpuTime() + childrenTime() - cpu).Seconds() / time.Since(start).Seconds()
	row.Memory, row.Children = residentMemory()
	m.mu.Lock()
	row.Painted = m.arrive
	m.mu.Unlock()
	m.player.Pause()
	after := m.player.Stats()
	row.Played, row.Dropped, row.Late = after.Played-before.Played, after.Dropped-before.Dropped, after.Late-before.Late
	total := max(1, row.Played+row.Dropped)
	fmt.Fprintf(m.out, "  %-44s %d of %d dropped (%.2f %%), %d late, %.2f cores; aim below 1 %%\n", "played at normal speed",
		row.Dropped, total, 100*float64(row.Dropped)/float64(total), row.Late, row.PlayedShare)
	if m.o.Window != nil {
		due := end - from
		fmt.Fprintf(m.out, "  %-44s %d of %d (%.2f %% not); aim below 1 %%\n", "frames painted meanwhile", row.Painted, due, 100*float64(max(0, due-row.Painted))/float64(max(1, due)))
	}
	if row.Memory > 0 {
		fmt.Fprintf(m.out, "  %-44s %d MB, and %d MB in decoders; aim below 700 MB\n", "resident memory while playing", row.Memory>>20, row.Children>>20)
	}
	return nil
}

// light prepares a part of the film and times seeks in it.
func (m *screenMeter) light(row *ScreenRow) error {
	x := m.file.Index
	part := play.Film{ID: screenID, Path: m.file.Path, To: m.p.prepared}
	start := time.Now()
	if err := m.proxies.Prepare(m.ctx, []play.Film{part}, nil, nil); err != nil {
		return err
	}
	row.LightSpeed = m.p.prepared.Seconds() / time.Since(start).Seconds()
	row.LightBytes = float64(m.proxies.Size()) / m.p.prepared.Seconds()
	var list []time.Duration
	n := x.FrameAt(m.p.prepared) - 1
	for range m.p.light {
		i := m.r.IntN(n)
		d, err := m.timed(func() { m.player.Seek(screenID, x.Time(i)) }, i)
		if err != nil {
			return err
		}
		list = append(list, d)
		if err := m.rest(30 * time.Millisecond); err != nil { // as a hand that drags
			return err
		}
	}
	row.Light = spreadOf(list)
	m.print("seek over light copies", row.Light, "40, 80")
	fmt.Fprintf(m.out, "  %-44s %.1f times as fast as the film, %.1f GB an hour\n", "light copies", row.LightSpeed, row.LightBytes*3600/1e9)
	return nil
}

const screenLine = "  %-44s %7s %7s ms   %s\n"

// print prints one spread as soon as it is known.
func (m *screenMeter) print(what string, s Spread, aim string) {
	fmt.Fprintf(m.out, screenLine, fmt.Sprintf("%s (%d)", what, s.N), fmt.Sprintf("%.1f", ms(s.P50)), fmt.Sprintf("%.1f", ms(s.P95)), aim)
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
