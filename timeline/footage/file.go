package footage

import (
	"context"
	"errors"

	"whistlecut/timeline/footage/ffmpeg"
)

// File is one film file that was probed and whose frames are known. It keeps no
// file open and may be used by several goroutines.
type File struct {
	Path        string
	Fingerprint Fingerprint
	Info        Info
	Index       *Index

	runner *ffmpeg.Runner
	stored *storedOnce // nil: the stored data is not looked at
}

// Open probes a film, takes its fingerprint and reads its frame index, from the
// cache when it was read before. A nil runner means ffmpeg.Default(). Films
// whose Info.NeedsRewrap should be rewrapped first.
func Open(ctx context.Context, r *ffmpeg.Runner, path string) (*File, error) {
	return open(ctx, r, path, CacheDir())
}

func open(ctx context.Context, r *ffmpeg.Runner, path, cacheDir string) (*File, error) {
	if r == nil {
		r = ffmpeg.Default()
	}
	info, err := Probe(ctx, r, path)
	if err != nil {
		return nil, err
	}
	fp, err := FingerprintOf(path)
	if err != nil {
		return nil, err
	}
	f := &File{Path: path, Fingerprint: fp, Info: info, runner: r, stored: &storedOnce{}}
	if x, err := loadIndex(cacheDir, fp); err == nil && x.Len() > 0 {
		f.Index = x
		return f, nil
	}
	if f.Index, err = ReadIndex(ctx, r, path, info); err != nil {
		return nil, err
	}
	// A cache that can't be written costs time later and nothing else.
	_ = storeIndex(cacheDir, fp, f.Index)
	return f, nil
}

// ReadIndex reads the frame index from the file, past the cache: from the
// tables of an MP4 or MOV, else from ffprobe's packet list.
func ReadIndex(ctx context.Context, r *ffmpeg.Runner, path string, info Info) (*Index, error) {
	x, err := (*Index)(nil), errNoTables
	if info.IsMP4() {
		x, err = indexFromTables(path, info.Video)
	}
	if errors.Is(err, errNoTables) {
		x, err = indexFromPackets(ctx, r, path, info.Video)
	}
	if err != nil {
		return nil, err
	}
	if x, err = dropHiddenLeading(ctx, r, path, info.Video, x); err != nil {
		return nil, err
	}
	if x.Len() == 0 {
		return nil, &Error{Doing: doingIndex, Path: path, Class: ErrNoPicture, Detail: "it shows no frame", Hint: "check that it plays in another program"}
	}
	return x, nil
}
