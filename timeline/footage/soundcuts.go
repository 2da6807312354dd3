package footage

import (
	"context"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// SoundCut is a stretch of sound that goes into a file of its own.
type SoundCut struct {
	From, To time.Duration // film time; To must be later than From
	Tempo    float64       // as in SoundFormat
	Path     string        // of the file of raw samples, replaced if it is there
}

// Sounds writes several stretches of sound into files of raw samples, each as
// Sound gives it and as long as that (shorter where the film's sound ends). One
// child does all of them: to start one takes as long as to decode half a minute of
// sound. Every stretch reads the film's tables anew, so that a dozen at once is
// enough. Files are unfinished when it fails.
func (f *File) Sounds(ctx context.Context, format SoundFormat, cuts []SoundCut) error {
	if len(cuts) == 0 {
		return nil
	}
	var g ffmpeg.Graph
	for i, c := range cuts {
		want := format
		want.Tempo = c.Tempo
		a, want, err := f.soundOf(want, c.From, c.To)
		if err != nil {
			return err
		}
		// A queue of another length makes inputs differ that are alike otherwise.
		node, out := rawSound(&g, f, a, want, c.From, ffmpeg.Options{"thread_queue_size": 8 + i})
		g.Output(c.Path, out, node.Filter("atrim", ffmpeg.Options{"end_sample": want.samples(c.To - c.From)}))
	}
	args, err := g.Args()
	if err != nil {
		return err
	}
	return f.runner.Run(ctx, ffmpeg.Job{Args: append([]string{"-y"}, args...), Doing: readSound, Subject: f.Path})
}
