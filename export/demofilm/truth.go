package demofilm

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/simulate"
)

// Truth is what a staged film shows and sounds, as written beside it. All times
// are in seconds; film times count from a file's first frame.
type Truth struct {
	Seed  uint64           `json:"seed"`
	Teams [2]timeline.Team `json:"teams"` // home, away
	Score [2]int           `json:"score"`
	Files []FilmFile       `json:"files"` // of the first camera in order, then of the second
	Jams  []FilmJam        `json:"jams"`
	// Blasts and Decoys are everything that can be heard, file by file.
	Blasts []FilmBlast `json:"blasts"`
	Decoys []FilmDecoy `json:"decoys,omitempty"`
	// Unheard are series that were blown and left out of the sound on purpose.
	Unheard []FilmBlast `json:"unheard,omitempty"`
}

// FilmFile is one camera file. Frame n of its grid is at n/FrameRate seconds;
// a file of variable rate leaves some frames out: those it has are at Kept.
type FilmFile struct {
	Name      string   `json:"name"`
	Camera    string   `json:"camera"`
	Order     int      `json:"order"` // within its camera
	Width     int      `json:"width"`
	Height    int      `json:"height"`
	FrameRate Fraction `json:"frame_rate"`
	Variable  bool     `json:"variable,omitempty"`
	Frames    int      `json:"frames"`     // in the file
	Duration  float64  `json:"duration_s"` // of the picture, last frame included
	// GameStart is the game time of film time 0; game time = GameStart + film
	// time / Speed.
	GameStart float64 `json:"game_start_s"`
	Speed     float64 `json:"speed"`
	// Kept are the grid numbers of the frames of a variable-rate file.
	Kept []int `json:"kept,omitempty"`
}

// FilmJam is one jam and where each camera shows it.
type FilmJam struct {
	ID        timeline.ID    `json:"id"`
	Period    int            `json:"period"`
	Jam       int            `json:"jam"`
	GameStart float64        `json:"game_start_s"`
	GameEnd   float64        `json:"game_end_s"`
	Ended     timeline.Ended `json:"ended"`
	Points    [2]int         `json:"points"`
	On        []OnFilm       `json:"on"` // empty: not on film
}

// OnFilm is a jam's place in one file. Start is when the whistle is blown, End
// the end of the fourth blast of the first set; a whistle is heard some 60 ms
// later (Blasts).
type OnFilm struct {
	File       string  `json:"file"`
	Start      float64 `json:"start_s"`
	End        float64 `json:"end_s"`
	StartFrame int     `json:"start_frame"` // grid number of the first frame at or after Start
	EndFrame   int     `json:"end_frame"`
}

// FilmBlast is one blast as heard in one file.
type FilmBlast struct {
	File     string                `json:"file"`
	Start    float64               `json:"start_s"`
	End      float64               `json:"end_s"`
	Hz       float64               `json:"hz"`
	Official simulate.OfficialRole `json:"official"`
	Kind     simulate.WhistleKind  `json:"kind"`
	Series   int                   `json:"series"` // blasts of one series share it within a file
	Echo     bool                  `json:"echo,omitempty"`
	Level    float64               `json:"level_db"`
	Period   int                   `json:"period"`
	Jam      int                   `json:"jam"`
}

// FilmDecoy is a sound that may be taken for a blast.
type FilmDecoy struct {
	File  string  `json:"file"`
	Start float64 `json:"start_s"`
	End   float64 `json:"end_s"`
	Hz    float64 `json:"hz"`
	What  string  `json:"what"`
}

// ReadTruth reads what Stage wrote.
func ReadTruth(path string) (Truth, error) {
	var t Truth
	b, err := os.ReadFile(path)
	if err != nil {
		return t, fmt.Errorf("cannot read the truth of a demo film: %w", err)
	}
	if err := json.Unmarshal(b, &t); err != nil {
		return t, fmt.Errorf("cannot read the truth of a demo film in %s: %w; stage the film again", path, err)
	}
	return t, nil
}

func (t Truth) write(path string) error {
	b, err := json.MarshalIndent(t, "", " ")
	if err != nil {
		return fmt.Errorf("cannot write the truth of a demo film: %w", err)
	}
	return ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, append(b, '\n'), 0o666) })
}

// newTruth writes down game and takes; sounds come with addSound.
func newTruth(g *simulate.Game, o Options, takes []take) Truth {
	t := Truth{Seed: g.Seed, Teams: g.Teams, Score: g.Truth.Score}
	for _, k := range takes {
		f := FilmFile{
			Name: k.name, Camera: k.camera, Order: k.order, Width: o.Width, Height: o.Height,
			FrameRate: k.rate, Variable: k.variable, Frames: k.frames, Duration: secs(k.length()),
			GameStart: secs(k.start), Speed: k.speed,
		}
		if k.variable {
			for n := range k.frames {
				if k.kept(n) {
					f.Kept = append(f.Kept, n)
				}
			}
			f.Frames = len(f.Kept)
		}
		t.Files = append(t.Files, f)
	}
	for _, j := range g.Truth.Jams {
		f := FilmJam{
			ID: j.ID, Period: j.Period, Jam: j.Number, GameStart: secs(j.Start), GameEnd: secs(j.End), Ended: j.Ended,
			Points: [2]int{j.Sides[0].Points, j.Sides[1].Points},
		}
		for _, k := range takes {
			start, end := k.film(j.Start), k.film(j.End)
			if start >= 0 && end <= k.length() {
				f.On = append(f.On, OnFilm{
					File: k.name, Start: secs(start), End: secs(end),
					StartFrame: k.frameAt(start), EndFrame: k.frameAt(end),
				})
			}
		}
		t.Jams = append(t.Jams, f)
	}
	return t
}

// frameAt is the first frame of the grid at or after a film time.
func (t take) frameAt(film time.Duration) int {
	return int(math.Ceil(film.Seconds()*t.rate.Float() - 1e-6))
}

func (t *Truth) addSound(file string, s sound.Truth) {
	for _, b := range s.Blasts {
		t.Blasts = append(t.Blasts, FilmBlast{
			File: file, Start: secs(b.Onset), End: secs(b.Offset), Hz: math.Round(b.Hz*10) / 10, Official: b.Official,
			Kind: b.Kind, Series: b.Series, Echo: b.Echo, Level: math.Round(b.LevelDB*10) / 10, Period: b.Period, Jam: b.Jam,
		})
	}
	for _, m := range s.Missing {
		t.Unheard = append(t.Unheard, FilmBlast{File: file, Start: secs(m.At), Official: m.Official, Kind: m.Kind, Period: m.Period, Jam: m.Jam})
	}
	for _, d := range s.Decoys {
		t.Decoys = append(t.Decoys, FilmDecoy{File: file, Start: secs(d.Onset), End: secs(d.Offset), Hz: math.Round(d.Hz), What: d.What})
	}
}

// secs rounds to a microsecond.
func secs(d time.Duration) float64 { return math.Round(d.Seconds()*1e6) / 1e6 }
