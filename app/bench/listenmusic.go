package bench

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/align"
	"whistlecut/timeline/whistle"
)

// musicLength is how long a hall without a bout is listened to.
const musicLength = 15 * time.Minute

// music is what was heard in a hall without a bout.
type music struct {
	blasts, jams int
	surest       float64 // confidence of the surest jam
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
	film := align.Film{Footage: "film", Length: heard.Length, Series: heard.Series, Blasts: heard.Blasts}
	res, err := align.Place(ctx, align.Input{Films: []align.Film{film}})
	if err != nil {
		return music{}, err
	}
	m := music{jams: len(res.Jams)}
	for _, b := range heard.Blasts {
		if b.Confidence >= whistle.Least {
			m.blasts++
		}
	}
	for _, p := range res.Jams {
		m.surest = max(m.surest, p.Confidence)
	}
	return m, nil
}
