package footage

import (
	"context"
	"errors"
	"os"

	"whistlecut/timeline/footage/ffmpeg"
)

const doingProbe = "read the properties of"

// Probe asks ffprobe what is in a file. Errors say in a sentence that the file
// is missing (ErrMissing), is no film (ErrNotFilm), was cut off (ErrTruncated)
// or holds no moving picture (ErrNoPicture); those of the runner are passed on.
func Probe(ctx context.Context, r *ffmpeg.Runner, path string) (Info, error) {
	st, err := os.Stat(path)
	if err != nil {
		return Info{}, fromSystem(doingProbe, path, err)
	}
	if st.IsDir() {
		return Info{}, &Error{Doing: doingProbe, Path: path, Class: ErrNotFilm, Detail: "it is a folder, not a film", Hint: "give the files in it"}
	}
	if st.Size() == 0 {
		return Info{}, &Error{Doing: doingProbe, Path: path, Class: ErrNotFilm, Detail: "it is empty", Hint: "copy it again from the camera"}
	}
	out, err := r.Probe(ctx, probeArgs(path)...)
	if err != nil {
		return Info{}, fromFFmpeg(doingProbe, path, err)
	}
	info, err := ParseProbe(out)
	if err != nil {
		return Info{}, describe(path, err)
	}
	return info, nil
}

func probeArgs(path string) []string {
	return append([]string{"-show_format", "-show_streams", "-of", "json"}, ffmpeg.Input(path)...)
}

// describe gives the path to an error of ParseProbe.
func describe(path string, err error) error {
	var e *Error
	if errors.As(err, &e) {
		named := *e
		named.Path = path
		return &named
	}
	return err
}
