package play

import (
	"context"
	"os"
	"path/filepath"
	"sync"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// rewrapping lets one film at a time be rewrapped, so that a player and the
// maker of light copies do not both do it.
var rewrapping sync.Mutex

// openFilm opens a film; one in which frames can't be found exactly and quickly
// is rewrapped first, once, into the cache folder. Film time stays the same.
func openFilm(ctx context.Context, r *ffmpeg.Runner, dir, path string) (*footage.File, error) {
	f, err := footage.Open(ctx, r, path)
	if err != nil || !f.Info.NeedsRewrap() {
		return f, err
	}
	rewrapping.Lock()
	defer rewrapping.Unlock()
	target := filepath.Join(dir, "rewrapped", string(f.Fingerprint)+".mp4")
	if _, err := os.Stat(target); err != nil {
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return f, nil // without room for a copy the film itself serves, slowly
		}
		if err := footage.Rewrap(ctx, r, path, f.Info, target, footage.RewrapOptions{}); err != nil {
			if ctx.Err() != nil {
				return nil, err
			}
			return f, nil
		}
	}
	copied, err := footage.Open(ctx, r, target)
	if err != nil || copied.Index.Len() != f.Index.Len() {
		return f, nil
	}
	return copied, nil
}
