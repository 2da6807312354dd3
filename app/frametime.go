package app

import (
	"context"
	"time"

	"whistlecut/timeline/footage"
)

// FrameTime is how long a frame of a film usually lasts.
func (a *App) FrameTime(ctx context.Context, path string) (time.Duration, error) {
	f, err := footage.Open(ctx, a.Runner, path)
	if err != nil {
		return 0, err
	}
	return f.Index.Interval(), nil
}
