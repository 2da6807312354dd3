package footage

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

func TestProbeFilms(t *testing.T) {
	tests := []struct {
		name  string
		check func(i Info) bool
		want  string
	}{
		{"closed", func(i Info) bool {
			v := i.Video
			return v.Codec == "h264" && v.Width == 320 && v.Height == 180 && v.Rate == (Rational{30, 1}) && !v.Variable && v.PixelFormat == "yuv420p" && v.BitDepth == 8 && v.Profile == "High" && v.Frames == 120
		}, "H.264 High 320x180 at a steady 30, 120 frames"},
		{"closed", func(i Info) bool {
			return i.IsMP4() && !i.NeedsRewrap() && len(i.Audio) == 1 && i.Audio[0].Codec == "aac" && i.Audio[0].Rate == 48000 && i.Audio[0].Channels == 1 && i.Duration == 4*time.Second
		}, "an MP4 of 4 s with mono AAC at 48 kHz"},
		{"bframes", func(i Info) bool { return i.Video.Rate == Rational{30000, 1001} }, "29.97 frames a second"},
		{"hevc", func(i Info) bool { return i.Video.Codec == "hevc" && i.Video.BitDepth == 10 && i.Video.Tag == "hvc1" }, "HEVC with ten bits"},
		{"variable", func(i Info) bool { return i.Video.Variable }, "a variable rate"},
		{"rotated", func(i Info) bool {
			v := i.Video
			return v.StoredWidth == 320 && v.StoredHeight == 180 && v.Width == 180 && v.Height == 320 && v.Rotation == 90
		}, "stored 320x180, to be turned by 90"},
		{"ts", func(i Info) bool { return i.NeedsRewrap() && i.Start > 12*time.Second && i.Container == "mpegts" }, "a transport stream from 12 s on"},
		{"latesound", func(i Info) bool {
			d := i.Audio[0].Start - i.Video.Start
			return d > 375*time.Millisecond && d <= 400*time.Millisecond // less the codec's priming
		}, "sound 0.4 s late"},
		{"latepicture", func(i Info) bool { return i.Video.Start-i.Audio[0].Start == 500*time.Millisecond }, "picture 0.5 s late"},
		{"timecode", func(i Info) bool {
			return i.Timecode == "10:20:30:05" && len(i.Others) == 1 && i.Others[0].Kind == KindTimecode && i.Created.Equal(time.Date(2024, 5, 4, 10, 11, 12, 0, time.UTC))
		}, "a time code track and a creation time"},
		{"odd", func(i Info) bool {
			v := i.Video
			return v.StoredWidth == 317 && v.PixelAspect == (Rational{4, 3}) && v.Width == 423 && v.Height == 179 && !i.HasSound()
		}, "odd sides, wide pixels, no sound"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			info, err := Probe(t.Context(), runner, film(t, tt.name))
			if err != nil {
				t.Fatal(err)
			}
			if !tt.check(info) {
				t.Errorf("want %s, got %+v", tt.want, info)
			}
		})
	}
}

func TestProbeErrorsAreSentences(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	whole, err := os.ReadFile(film(t, "closed"))
	if err != nil {
		t.Fatal(err)
	}
	soundOnly := filepath.Join(dir, "sound.m4a")
	makeFilm(t, soundOnly, append(clicks(1), aac...)...)
	tests := []struct {
		name string
		path string
		is   error
		want string
	}{
		{"missing", filepath.Join(dir, "gone.mp4"), ErrMissing, "look for it"},
		{"folder", dir, ErrNotFilm, "folder"},
		{"empty", write("empty.mp4", nil), ErrNotFilm, "empty"},
		{"text named mp4", write("text.mp4", []byte(strings.Repeat("score sheet\n", 50))), ErrNotFilm, "not a film"},
		{"cut off before the index", write("cut.mp4", whole[:len(whole)*2/3]), ErrTruncated, "no index"},
		{"sound only", soundOnly, ErrNoPicture, "sound and no picture"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Probe(t.Context(), runner, tt.path)
			if !errors.Is(err, tt.is) {
				t.Errorf("got %v, want %v", err, tt.is)
			}
			if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), filepath.Base(tt.path)) {
				t.Errorf("sentence %q, want %q and the file's name in it", err, tt.want)
			}
		})
	}
	t.Run("no ffprobe", func(t *testing.T) {
		r := &ffmpeg.Runner{FFprobe: filepath.Join(dir, "nowhere")}
		if _, err := Probe(t.Context(), r, film(t, "closed")); !errors.Is(err, ffmpeg.ErrNotInstalled) {
			t.Errorf("got %v", err)
		}
	})
}

func TestParseProbeIsTolerant(t *testing.T) {
	video := `{"index":0,"codec_type":"video","codec_name":"h264","width":1920,"height":1080`
	tests := []struct {
		name  string
		json  string
		check func(i Info) bool
	}{
		{
			"numbers as text and text as numbers", `{"streams":[` + video + `,"level":"41","nb_frames":30,"start_time":1.5}],"format":{"duration":"2.000000","size":123}}`,
			func(i Info) bool {
				return i.Video.Level == 41 && i.Video.Frames == 30 && i.Video.Start == 1500*time.Millisecond && i.Duration == 2*time.Second && i.Size == 123
			},
		},
		{
			"unknown values", `{"streams":[` + video + `,"r_frame_rate":"0/0","avg_frame_rate":"x","duration":"N/A","level":-99,"nb_frames":null}]}`,
			func(i Info) bool {
				return !i.Video.Rate.Known() && !i.Video.Variable && i.Video.Duration == 0 && i.Video.Level == 0
			},
		},
		{
			"a cover is no film", `{"streams":[{"codec_type":"video","width":600,"height":600,"disposition":{"attached_pic":1}},` + video + `}]}`,
			func(i Info) bool { return i.Video.Width == 1920 && i.Others[0].Kind == KindCover },
		},
		{
			"counter-clockwise matrix", `{"streams":[` + video + `,"side_data_list":[{"side_data_type":"Display Matrix","rotation":-90}]}]}`,
			func(i Info) bool { return i.Video.Rotation == 90 && i.Video.Width == 1080 },
		},
		{
			"clockwise tag in other case", `{"streams":[` + video + `,"tags":{"ROTATE":"270"}}]}`,
			func(i Info) bool { return i.Video.Rotation == 270 },
		},
		{
			"telemetry", `{"streams":[` + video + `},{"index":3,"codec_type":"data","codec_tag_string":"gpmd","tags":{"handler_name":"Motion"}}]}`,
			func(i Info) bool { return i.Others[0] == Other{3, KindTelemetry, "", "gpmd", "Motion"} },
		},
		{
			"fields of impossible types", `{"streams":[{"index":{},"codec_type":"video","codec_name":7,"width":"640","height":360,"disposition":3}]}`,
			func(i Info) bool { return i.Video.Width == 640 },
		},
		{
			"an unset clock", `{"streams":[` + video + `}],"format":{"tags":{"creation_time":"1970-01-01T00:00:00.000000Z"}}}`,
			func(i Info) bool { return i.Created.IsZero() },
		},
		{
			"an average below the nominal rate", `{"streams":[` + video + `,"r_frame_rate":"30/1","avg_frame_rate":"27/1"}]}`,
			func(i Info) bool { return i.Video.Variable },
		},
		{
			"fields counted as frames", `{"streams":[` + video + `,"field_order":"tt","r_frame_rate":"50/1","avg_frame_rate":"25/1"}]}`,
			func(i Info) bool { return i.Video.Interlaced && !i.Video.Variable },
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			info, err := ParseProbe([]byte(tt.json))
			if err != nil {
				t.Fatal(err)
			}
			if !tt.check(info) {
				t.Errorf("got %+v", info)
			}
		})
	}
}

func FuzzParsePackets(f *testing.F) {
	f.Add("pts=0|duration=512|flags=K_\npts=1024|duration=512|flags=__|\n\npts=512|duration=512|flags=_D\n")
	f.Add("key_frame=1|best_effort_timestamp=7|pkt_duration=N/A\n")
	f.Add("pts=N/A|flags=K_\npts=-9223372036854775808|flags=K_\npts=9223372036854775807|duration=9|flags=__\n")
	f.Fuzz(func(t *testing.T, text string) {
		packets, err := parsePackets(strings.NewReader(text))
		if err != nil {
			return
		}
		frames, end, _ := framesOf(packets)
		x := newIndex(Rational{1, 90000}, frames, end)
		for i := range x.Len() {
			if i > 0 && x.PTS(i) < x.PTS(i-1) {
				t.Fatalf("frame %d is shown before the one before it", i)
			}
			if x.DecodeOrder(i) >= len(packets) {
				t.Fatalf("frame %d is packet %d of %d", i, x.DecodeOrder(i), len(packets))
			}
		}
		if x.Len() > 0 && x.Duration() <= 0 {
			t.Fatalf("%d frames last %v", x.Len(), x.Duration())
		}
	})
}

func FuzzParseProbe(f *testing.F) {
	f.Add([]byte(`{"streams":[{"index":0,"id":"0x1","codec_type":"video","width":2,"height":1,"sample_aspect_ratio":"4:3","time_base":"1/90000","tags":{"rotate":"90"}}],"format":{"start_time":"-0.1"}}`))
	f.Add([]byte(`{"streams":[{"codec_type":"audio","sample_rate":"48000"}]}`))
	f.Add([]byte(`[]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := ParseProbe(data)
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without words")
			}
			return
		}
		v := info.Video
		if v.Width <= 0 || v.Height <= 0 || v.Rotation%90 != 0 || v.Rotation < 0 || v.Rotation >= 360 {
			t.Errorf("impossible picture %+v", v)
		}
		if info.Duration < 0 || v.Duration < 0 || info.Size < 0 || v.Frames < 0 {
			t.Errorf("negative length %+v", info)
		}
		if v.Base.Known() && v.Base.Duration(1<<40) < 0 {
			t.Errorf("time base %v runs backwards", v.Base)
		}
	})
}
