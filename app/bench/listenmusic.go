package bench

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/align"
	"whistlecut/timeline/simulate"
	"whistlecut/timeline/whistle"
)

// musicLength is how long a hall without a bout is listened to.
const musicLength = 15 * time.Minute

// music is what was heard in a hall without a bout.
type music struct {
	blasts, jams int
	surest       float64 // confidence of the surest jam
	bySheet      float64 // the same with a sheet of six jams, with durations and bare
}

func musicOnly(ctx context.Context, t Tier, family sound.Family, seed uint64) (music, error) {
	o := t.Sound(family, seed)
	o.Rate = whistle.Rate
	st, err := sound.New(sound.NewSchedule(nil, musicLength), o)
	if err != nil {
		return music{}, fmt.Errorf("cannot make the sound of a hall without a bout: %w", err)
	}
	l := whistle.New(whistle.Options{Least: leastForJams})
	buf := make([]float32, 8192)
	for {
		if err := ctx.Err(); err != nil {
			return music{}, fmt.Errorf("stopped measuring how whistles are heard: %w", err)
		}
		n, err := st.Read(buf)
		if werr := l.Write(buf[:n]); werr != nil {
			return music{}, werr
		}
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return music{}, fmt.Errorf("cannot make the sound of a hall without a bout: %w", err)
		}
	}
	heard, err := l.Close()
	if err != nil {
		return music{}, err
	}
	m := music{}
	for _, b := range heard.Blasts {
		if b.Confidence >= whistle.Least {
			m.blasts++
		}
	}
	film := align.Film{Footage: "film", Length: heard.Length, Series: heard.Series, Blasts: heard.Blasts}
	game := simulate.Play(seed, simulate.Options{Periods: 1, Jams: 6})
	kept := papers()
	for _, sheet := range [][]align.Known{nil, knownOf(game, nil, kept[0]), knownOf(game, nil, kept[len(kept)-1])} {
		res, err := align.Place(ctx, align.Input{Films: []align.Film{film}, Jams: sheet})
		if err != nil {
			return music{}, err
		}
		if sheet == nil {
			m.jams = len(res.Jams)
		}
		for _, p := range res.Jams {
			if sheet == nil {
				m.surest = max(m.surest, p.Confidence)
			} else {
				m.bySheet = max(m.bySheet, p.Confidence)
			}
		}
	}
	return m, nil
}
