package ffmpeg

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestGraphArguments(t *testing.T) {
	tests := []struct {
		name  string
		build func(g *Graph)
		want  []string
	}{
		{"copy the first picture and the first sound", func(g *Graph) {
			in := g.Input("game.mp4", Options{"ss": 1500 * time.Millisecond})
			g.Output("clip.mp4", Options{"c": "copy"}, in.Pick("v:0"), in.Pick("a:0"))
		}, []string{"-protocol_whitelist", "file,pipe", "-ss", "1.500000", "-i", "file:game.mp4", "-map", "0:v:0", "-map", "0:a:0", "-c", "copy", "file:clip.mp4"}},
		{"raw frames to a pipe", func(g *Graph) {
			v := g.Input("game.mp4", nil).Pick("v:0").Filter("scale", Options{"w": 960, "h": 540, "flags": "bilinear"})
			g.Pipe(Options{"f": "rawvideo", "pix_fmt": "rgba", "fps_mode": "passthrough"}, v)
		}, []string{
			"-protocol_whitelist", "file,pipe", "-i", "file:game.mp4", "-filter_complex", "[0:v:0]scale=flags=bilinear:h=540:w=960[s0]",
			"-map", "[s0]", "-f", "rawvideo", "-fps_mode", "passthrough", "-pix_fmt", "rgba", "pipe:1",
		}},
		{"a picture laid over another keeps the order", func(g *Graph) {
			film, bar := g.Input("game.mp4", nil), g.Input("bar.png", nil)
			v := g.Combine("overlay", Options{"x": 0, "y": 480, "eof_action": "repeat"}, film.Pick("v:0"), bar.Pick("v:0"))
			g.Output("clip.mp4", nil, v)
		}, []string{
			"-protocol_whitelist", "file,pipe", "-i", "file:game.mp4", "-protocol_whitelist", "file,pipe", "-i", "file:bar.png",
			"-filter_complex", "[0:v:0][1:v:0]overlay=eof_action=repeat:x=0:y=480[s0]", "-map", "[s0]", "file:clip.mp4",
		}},
		{"small numbers are written out", func(g *Graph) {
			a := g.Input("game.mp4", nil).Pick("a:0").Filter("volume", Options{"volume": 0.00001})
			g.Output("a.wav", Options{"t": 90 * time.Second}, a)
		}, []string{
			"-protocol_whitelist", "file,pipe", "-i", "file:game.mp4", "-filter_complex", "[0:a:0]volume=volume=0.00001[s0]",
			"-map", "[s0]", "-t", "90.000000", "file:a.wav",
		}},
		{"two outputs", func(g *Graph) {
			in := g.Input("game.mp4", nil)
			g.Output("a.mp4", Options{"c": "copy"}, in.Pick("v:0"))
			g.Output("b.wav", nil, in.Pick("a:0"))
		}, []string{"-protocol_whitelist", "file,pipe", "-i", "file:game.mp4", "-map", "0:v:0", "-c", "copy", "file:a.mp4", "-map", "0:a:0", "file:b.wav"}},
		{"an option more than once", func(g *Graph) {
			in := g.Input("game.mp4", nil)
			g.Output("clip.mp4", Options{"metadata": []string{"title=Jam 3", "comment=two"}}, in.Pick("v:0"))
		}, []string{
			"-protocol_whitelist", "file,pipe", "-i", "file:game.mp4", "-map", "0:v:0",
			"-metadata", "title=Jam 3", "-metadata", "comment=two", "file:clip.mp4",
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var g Graph
			tt.build(&g)
			got, err := g.Args()
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestGraphMistakesAreErrors(t *testing.T) {
	tests := []struct {
		name  string
		build func(g *Graph)
		want  string
	}{
		{"no output", func(g *Graph) { g.Input("a.mp4", nil) }, "no output"},
		{"output of nothing", func(g *Graph) { g.Output("a.mp4", nil) }, "without a picture"},
		{"two inputs whose options are exchanged collapse", func(g *Graph) {
			a := g.Input("a.mp4", Options{"ss": "1", "t": "2"})
			b := g.Input("a.mp4", Options{"ss": "2", "t": "1"})
			g.Output("b.mp4", nil, a.Pick("v:0"), b.Pick("a:0"))
		}, "took two of them for one"},
		{"one filter's result used twice", func(g *Graph) {
			v := g.Input("a.mp4", nil).Pick("v:0").Filter("hflip", nil)
			g.Output("b.mp4", nil, v, v)
		}, "used twice"},
		{"a flip and another on one stream", func(g *Graph) {
			v := g.Input("a.mp4", nil).Pick("v:0")
			g.Output("b.mp4", nil, v.Filter("hflip", nil), v.Filter("vflip", nil))
		}, "ffmpeg graph"},
		{"a pick of a pick", func(g *Graph) {
			g.Output("b.mp4", nil, g.Input("a.mp4", nil).Pick("v").Pick("0"))
		}, "selector"},
		{"an option of a strange type", func(g *Graph) {
			g.Output("b.mp4", Options{"t": struct{}{}}, g.Input("a.mp4", nil))
		}, "type struct"},
		{"a node of another graph", func(g *Graph) {
			var other Graph
			g.Output("b.mp4", nil, other.Input("a.mp4", nil))
		}, "another graph"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var g Graph
			tt.build(&g)
			args, err := g.Args()
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %q, %v; want an error with %q", args, err, tt.want)
			}
		})
	}
}

// TestGraphEscapesFilterValues lets ffmpeg itself read hostile values back: the
// metadata filter writes the value it was given to a frame and prints it.
func TestGraphEscapesFilterValues(t *testing.T) {
	r := testRunner(t)
	for _, value := range []string{`plain`, `a:b`, `it's`, `c:\x\y`, `[x];,=y`, `x,hflip;[0]`, `100%{pts}`} {
		var g Graph
		log := filepath.Join(t.TempDir(), "log.txt")
		v := g.Generated("color=s=16x16:d=0.04", nil).
			Filter("metadata", Options{"mode": "add", "key": "note", "value": value}).
			Filter("metadata", Options{"mode": "print", "file": log})
		g.Output("-", Options{"f": "null"}, v)
		args, err := g.Args()
		if err != nil {
			t.Fatal(err)
		}
		args[len(args)-1] = "-"
		if err := r.Run(t.Context(), Job{Args: args}); err != nil {
			t.Errorf("%q: %v", value, err)
			continue
		}
		if got := readTestFile(t, log); !strings.Contains(got, "note="+value+"\n") {
			t.Errorf("%q came back as %q", value, got)
		}
	}
}

func TestSeconds(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0:                                "0.000000",
		time.Hour + 1500*time.Nanosecond: "3600.000001",
		-250 * time.Millisecond:          "-0.250000",
		999 * time.Nanosecond:            "0.000000",
	} {
		if got := Seconds(d); got != want {
			t.Errorf("%v: got %s, want %s", d, got, want)
		}
	}
}
