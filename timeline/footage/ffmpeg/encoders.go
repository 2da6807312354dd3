package ffmpeg

import (
	"context"
	"strings"
)

// Encoders lists the names of the encoders that this ffmpeg was built with.
func (r *Runner) Encoders(ctx context.Context) (map[string]bool, error) {
	out, err := r.Output(ctx, Job{Args: []string{"-encoders"}, Doing: "list the encoders of", Subject: "ffmpeg"})
	if err != nil {
		return nil, err
	}
	return parseEncoders(string(out)), nil
}

// parseEncoders reads ffmpeg's table: after a line of dashes, flags and a name a line.
func parseEncoders(text string) map[string]bool {
	list := map[string]bool{}
	_, table, _ := strings.Cut(text, "------")
	for line := range strings.Lines(table) {
		if f := strings.Fields(line); len(f) >= 2 {
			list[f[1]] = true
		}
	}
	return list
}
