package mp4_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// TestProbeSeesTheSameFilm reads films that ffmpeg wrote, writes them with this
// package, and asks ffprobe for every packet of both.
func TestProbeSeesTheSameFilm(t *testing.T) {
	r := ffmpeg.Default()
	if _, err := r.Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
	ctx := context.Background()
	for _, c := range []struct {
		name, file string
		args       []string
	}{
		{"B-frames and AAC", "a.mp4", []string{"-c:v", "libx264", "-preset", "ultrafast", "-bf", "2", "-c:a", "aac"}},
		{"late sound", "b.mp4", []string{"-af", "asetpts=PTS+0.7/TB", "-c:v", "libx264", "-preset", "ultrafast", "-c:a", "aac"}},
		{"uncompressed sound", "c.mov", []string{"-c:v", "mjpeg", "-c:a", "pcm_s16le"}},
		{"title", "d.mp4", []string{"-c:v", "mpeg4", "-an", "-metadata", "title=P1 J7 – lead"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			src, dst := filepath.Join(dir, c.file), filepath.Join(dir, "copy-"+c.file)
			args := append([]string{"-f", "lavfi", "-i", "testsrc2=s=96x64:r=25:d=2", "-f", "lavfi", "-i", "sine=d=2"}, c.args...)
			if err := r.Run(ctx, ffmpeg.Job{Args: append(args, src)}); err != nil {
				t.Fatal(err)
			}
			copyFilm(t, src, dst)
			probe := func(path string) string {
				out, err := r.Probe(ctx, "-show_packets", "-show_data_hash", "crc32", "-show_streams", "-show_entries",
					"packet=stream_index,pts,dts,size,flags,data_hash:stream=codec_name,codec_tag_string,width,height,start_pts,duration_ts,time_base,nb_frames:stream_tags=language:format_tags=title",
					"-of", "compact", path)
				if err != nil {
					t.Fatal(err)
				}
				// QuickTime's own way to leave the language open has no word.
				out = bytes.ReplaceAll(out, []byte("|tag:language=und"), nil)
				// Packets of different streams may be interleaved otherwise.
				var streams [2][]string
				var rest []string
				for line := range strings.Lines(string(out)) {
					switch {
					case strings.HasPrefix(line, "packet|stream_index=0"):
						streams[0] = append(streams[0], line)
					case strings.HasPrefix(line, "packet|stream_index=1"):
						streams[1] = append(streams[1], line)
					default:
						rest = append(rest, line)
					}
				}
				return strings.Join(append(append(rest, streams[0]...), streams[1]...), "")
			}
			want, got := probe(src), probe(dst)
			if d := cmp.Diff(want, got); d != "" {
				t.Error(d)
			}
			if strings.Count(want, "packet|") < 50 {
				t.Errorf("ffprobe said little:\n%s", want)
			}
		})
	}
}

// copyFilm writes what it reads.
func copyFilm(t *testing.T, src, dst string) {
	t.Helper()
	film, err := mp4.Open(src)
	if err != nil {
		t.Fatal(err)
	}
	in, err := os.Open(src)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	m := &mp4.Movie{Timescale: film.Timescale, Brands: film.Brands, Title: film.Title}
	for _, tr := range film.Tracks {
		o := &mp4.OutTrack{
			Handler: tr.Handler, Name: tr.Name, Timescale: tr.Timescale, Language: tr.Language, Matrix: tr.Matrix,
			Width: tr.Width, Height: tr.Height, Edits: tr.Edits, Entries: tr.Entries, Unit: tr.Samples.Unit,
		}
		s := &tr.Samples
		for i := range s.Len() {
			o.Samples = append(o.Samples, mp4.OutSample{
				Src: in, Offset: s.Offset[i], Size: s.Size[i], Duration: uint32(s.Duration(i)),
				CTS: int32(s.PTS(i) - s.DTS[i]), Key: s.IsKey(i), Entry: s.EntryOf(i),
			})
		}
		m.Tracks = append(m.Tracks, o)
	}
	out, err := os.Create(dst)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.WriteTo(out); err != nil {
		t.Fatal(err)
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
}
