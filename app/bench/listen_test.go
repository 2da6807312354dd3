package bench

import (
	"testing"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/whistle"
)

// One short bout of each graded condition, with whistles and rooms that nothing
// was tuned on. The floors lie well below what the full table shows: they catch a
// listener that has gone deaf or hears ghosts, not a bad day.
func TestListenTiers(t *testing.T) {
	floors := map[string]struct{ f1, bias float64 }{"easy": {0.70, 10}, "middle": {0.60, 20}, "hard": {0.45, 25}}
	for _, tier := range Tiers() {
		floor, ok := floors[tier.Name]
		if !ok {
			continue // hopeless sound is only measured
		}
		t.Run(tier.Name, func(t *testing.T) {
			take, err := tier.Render(sound.Evaluation, 31, 2)
			if err != nil {
				t.Fatal(err)
			}
			heard, err := take.Hear(0)
			if err != nil {
				t.Fatal(err)
			}
			var sum tally
			sum.add(take, heard.Blasts)
			bias, _ := middle(sum.late)
			if sum.f1() < floor.f1 || bias > floor.bias || bias < -floor.bias {
				t.Errorf("precision %.2f, recall %.2f, F1 %.2f, onsets %.0f ms late", sum.precision(), sum.recall(), sum.f1(), bias)
			}
		})
	}
}

// A bout's background without any whistle: music and a crowd.
func TestMusicIsNoOfficial(t *testing.T) {
	easy := Tiers()[0]
	easy.Sound = func(f sound.Family, seed uint64) sound.Options {
		o := sound.Graded(sound.Middle, f, seed)
		o.Music, o.Announcer, o.Skates, o.Part = 0.9, 0.05, 0, sound.Background
		return o
	}
	take, err := easy.Render(sound.Evaluation, 32, 2)
	if err != nil {
		t.Fatal(err)
	}
	heard, err := take.Hear(0)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, b := range heard.Blasts {
		if b.Confidence >= whistle.Least {
			n++
		}
	}
	if perMinute := float64(n) / take.Length.Minutes(); perMinute > 2 {
		t.Errorf("heard %.1f blasts a minute in music", perMinute)
	}
}
