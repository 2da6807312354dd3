package reel

import (
	"context"
	"errors"
	"image/color"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// short is a reel of three sections that are encoded.
func short(t testing.TB) Reel {
	white := Layer{Image: plate(20, 20, color.White), X: 280, Y: 150}
	return Reel{
		Out: filepath.Join(t.TempDir(), "reel.mp4"), Reencode: true,
		Sections: []Section{
			{Chapter: "one", Card: &Card{Image: plate(320, 180, color.Black), Length: 200 * ms}},
			{Film: &Film{Path: home(t), From: 0, To: 2000 * ms, Layers: []Layer{white}}},
			{Film: &Film{Path: home(t), From: 3000 * ms, To: 9000 * ms, Layers: []Layer{white}}},
		},
	}
}

// TestStopped stops a reel in its last section: without Resume nothing is left;
// with it the finished sections are, and they are used the next time.
func TestStopped(t *testing.T) {
	for _, resume := range []bool{false, true} {
		name := map[bool]string{false: "leaves nothing", true: "goes on"}[resume]
		t.Run(name, func(t *testing.T) {
			r := short(t)
			r.Resume = resume
			if err := os.WriteFile(r.Out, []byte("older"), 0o666); err != nil {
				t.Fatal(err)
			}
			ctx, cancel := context.WithCancel(context.Background())
			defer cancel()
			r.Progress = func(p Progress) {
				if p.Finished == 2 {
					cancel()
				}
			}
			_, err := r.Make(ctx, runner(t))
			if !errors.Is(err, context.Canceled) || !strings.Contains(err.Error(), "making reel.mp4 was stopped") {
				t.Errorf("got %v", err)
			}
			if b, _ := os.ReadFile(r.Out); string(b) != "older" {
				t.Error("the older reel is gone")
			}
			if got := others(t, r.Out); resume != (len(got) == 1) {
				t.Fatalf("left: %v", got)
			}
			if !resume {
				return
			}
			list, err := os.ReadDir(WorkFolder(r.Out))
			if err != nil || len(list) != 6 { // picture, sound and note of two sections
				t.Errorf("kept %v, %v", list, err)
			}
			// What a crash leaves: an unfinished section and pictures.
			for _, name := range []string{"half.mp4", ".half.part-1.mp4"} {
				if err := os.WriteFile(filepath.Join(WorkFolder(r.Out), name), []byte("half"), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			// Another section is made anew, the others are not.
			r.Sections[0].Card = &Card{Image: plate(320, 180, color.White), Length: 200 * ms}
			r.Progress = nil
			res := make1(t, r)
			var kept []bool
			for _, s := range res.Sections {
				kept = append(kept, s.Kept)
			}
			if kept[0] || !kept[1] || kept[2] {
				t.Errorf("kept %v, want the second one", kept)
			}
			same(t, "frames", numbers(t, res.Out, 320, 180, res.Format.Whole())[0][5:], append(span(0, 49, 1), span(75, 224, 1)...))
		})
	}
}

// TestDamagedSectionIsMadeAnew changes what was kept.
func TestDamagedSectionIsMadeAnew(t *testing.T) {
	f := folder{t.TempDir()}
	form := Format{320, 180, plain.Rate}
	if _, ok := f.kept("a", form, 3); ok {
		t.Error("nothing was taken for a section")
	}
	if err := os.WriteFile(f.picture("a"), []byte("no film"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(f.sound("a"), make([]byte, sectionSamples(form, 3)*sampleBytes), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := f.finish("a", made{Method: Encoded, Frames: 3}); err != nil {
		t.Fatal(err)
	}
	if _, ok := f.kept("a", form, 3); ok {
		t.Error("a broken film was taken for a section")
	}
}

func TestReelRefuses(t *testing.T) {
	path := home(t)
	card := Section{Card: &Card{Image: plate(64, 64, color.White), Length: 100 * ms}}
	of := func(f Film) []Section { return []Section{card, {Film: &f}} }
	dir := t.TempDir()
	out := filepath.Join(dir, "reel.mp4")
	gone := filepath.Join(dir, "gone.mp4")
	if err := os.WriteFile(filepath.Join(dir, "text.mp4"), []byte("not a film at all"), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		r    Reel
		says string
	}{
		{"nothing", Reel{Out: out}, "it has no sections"},
		{"no name", Reel{Sections: []Section{card}}, "it has no name"},
		{"neither card nor film", Reel{Out: out, Sections: []Section{{}}}, "part 1 of the reel: it is either a card or a film"},
		{"card without length", Reel{Out: out, Sections: []Section{{Card: &Card{Image: plate(9, 9, color.White)}}}}, "give it a length"},
		{"film is gone", Reel{Out: out, Sections: of(Film{Path: gone, To: 1000 * ms})}, "part 2 of the reel: cannot read the properties of gone.mp4"},
		{"film beside is gone", Reel{Out: out, Sections: of(Film{Path: path, To: 1000 * ms, Beside: &Beside{Path: gone}})}, "look for it where it was moved"},
		{"not a film", Reel{Out: out, Sections: of(Film{Path: filepath.Join(dir, "text.mp4"), To: 1000 * ms})}, "part 2 of the reel: cannot read the properties of text.mp4"},
		{"backwards", Reel{Out: out, Sections: of(Film{Path: path, From: 2000 * ms, To: 1000 * ms})}, "more than nothing"},
		{"outside", Reel{Out: out, Sections: of(Film{Path: path, From: 20000 * ms, To: 21000 * ms})}, "outside the film, which ends at 10s"},
		{"over its film", Reel{Out: path, Sections: of(Film{Path: path, To: 1000 * ms})}, "would replace its film"},
		{"speed", Reel{Out: out, Sections: of(Film{Path: path, To: 1000 * ms, Speeds: []Speed{{0, 500 * ms, 9}}})}, "its speed 1 is 9"},
		{"no such freeze", Reel{Out: out, Sections: of(Film{Path: path, To: 1000 * ms, Layers: []Layer{{Image: plate(9, 9, color.White), Freeze: 1}}})}, "freeze 1, and there are 0"},
		{"size", Reel{Out: out, Sections: []Section{card}, Width: 4, Height: 4}, "4x4"},
		{"no such folder", Reel{Out: filepath.Join(dir, "no", "such", "reel.mp4"), Sections: []Section{card}}, "its folder does not exist"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := c.r.Make(context.Background(), runner(t))
			if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
				t.Errorf("got %v", err)
			}
			if list, _ := os.ReadDir(dir); len(list) != 1 {
				t.Errorf("left behind: %v", list)
			}
			if _, err := os.Stat(WorkFolder(path)); !errors.Is(err, fs.ErrNotExist) {
				t.Error("a work folder is left beside the film")
			}
		})
	}
}
