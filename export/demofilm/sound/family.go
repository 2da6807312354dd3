package sound

import "math/rand/v2"

// Family names a set of whistles and rooms. No parameter of a whistle of the
// evaluation family lies in a range of another one, and its rooms differ in kind.
type Family string

// The families. The zero value is Tuning.
const (
	Tuning     Family = ""           // for setting thresholds
	Outer      Family = "outer"      // for setting them, too: further out than both others, and as Tuning
	Evaluation Family = "evaluation" // for judging what was set
)

// Range is a stretch of a parameter, from Lo up to but without Hi.
type Range struct{ Lo, Hi float64 }

// Ranges is a union of stretches.
type Ranges []Range

// Contains reports whether v lies in one of them.
func (r Ranges) Contains(v float64) bool {
	for _, x := range r {
		if v >= x.Lo && v < x.Hi {
			return true
		}
	}
	return false
}

// draw picks evenly from the union.
func (r Ranges) draw(rng *rand.Rand) float64 {
	total := 0.0
	for _, x := range r {
		total += x.Hi - x.Lo
	}
	v := rng.Float64() * total
	for _, x := range r {
		if v < x.Hi-x.Lo {
			return x.Lo + v
		}
		v -= x.Hi - x.Lo
	}
	return r[0].Lo
}

// Parameter names one number that describes a whistle.
type Parameter string

// The parameters of whistles.
const (
	PealessHz    Parameter = "pealess pitch, Hz"          // lowest chamber
	PeaHz        Parameter = "pea pitch, Hz"              // middle of the flutter
	Chamber      Parameter = "chamber ratio"              // pitch of the next chamber over the one before
	Rise         Parameter = "rise"                       // share by which the pitch starts low
	RiseTime     Parameter = "rise time, s"               // until 95 per cent of it is made up
	Attack       Parameter = "attack, s"                  // until 95 per cent of the level
	Release      Parameter = "release, s"                 // fading at the end
	SecondDB     Parameter = "second harmonic, dB"        // over the fundamental
	ThirdDB      Parameter = "third harmonic, dB"         // over the fundamental
	BreathDB     Parameter = "breath noise, dB"           // over the tone
	Flutter      Parameter = "flutter, Hz"                // of the pea
	FlutterWidth Parameter = "flutter width"              // distance of the two pitches over their middle
	FlutterLevel Parameter = "flutter of the level, 0..1" // how far it drops
)

// Parameters returns the ranges of a family. Fundamentals of 2.3 to 4.0 kHz,
// most below 3.3 kHz, a rise of 5 to 10 per cent in the first 50 ms and
// harmonics of about -25 and -20 dB were measured on recordings in halls; the
// close tones of pealess whistles follow from their chambers (EP 0302645), the
// two pitches of the pea from a published measurement (2015). The other ranges
// are common practice, no source.
func (f Family) Parameters() map[Parameter]Ranges {
	switch f {
	case Evaluation:
		return evaluationRanges
	case Outer:
		return outerRanges
	}
	return tuningRanges
}

var tuningRanges = map[Parameter]Ranges{
	PealessHz:    {{2450, 2700}, {3000, 3250}, {3600, 3800}},
	PeaHz:        {{2200, 2450}, {2800, 3050}},
	Chamber:      {{1.035, 1.060}, {1.075, 1.090}},
	Rise:         {{0.060, 0.085}},
	RiseTime:     {{0.040, 0.055}},
	Attack:       {{0.008, 0.020}},
	Release:      {{0.020, 0.040}},
	SecondDB:     {{-27, -23}},
	ThirdDB:      {{-22, -18}},
	BreathDB:     {{-30, -24}},
	Flutter:      {{18, 28}},
	FlutterWidth: {{0.035, 0.060}},
	FlutterLevel: {{0.35, 0.60}},
}

var evaluationRanges = map[Parameter]Ranges{
	PealessHz:    {{2300, 2450}, {2700, 3000}, {3250, 3600}, {3800, 4000}},
	PeaHz:        {{2050, 2200}, {2450, 2800}, {3050, 3300}},
	Chamber:      {{1.015, 1.035}, {1.060, 1.075}, {1.090, 1.120}},
	Rise:         {{0.045, 0.060}, {0.085, 0.110}},
	RiseTime:     {{0.025, 0.040}, {0.055, 0.080}},
	Attack:       {{0.004, 0.008}, {0.020, 0.045}},
	Release:      {{0.010, 0.020}, {0.040, 0.070}},
	SecondDB:     {{-34, -27}, {-23, -19}},
	ThirdDB:      {{-29, -22}, {-18, -15}},
	BreathDB:     {{-40, -30}, {-24, -18}},
	Flutter:      {{11, 18}, {28, 42}},
	FlutterWidth: {{0.015, 0.035}, {0.060, 0.110}},
	FlutterLevel: {{0.15, 0.35}, {0.60, 0.80}},
}

// outerRanges are those of the tuning family, for the pitches, and else what lies
// beyond all of the evaluation family's on both sides, with a part of the tuning
// family's between: what is learned from it must hold for what lies within.
var outerRanges = map[Parameter]Ranges{
	PealessHz:    {{2100, 2300}, {2450, 2700}, {3000, 3250}, {3600, 3800}},
	PeaHz:        {{1950, 2050}, {2200, 2450}, {2800, 3050}, {3300, 3450}},
	Chamber:      {{1.005, 1.015}, {1.035, 1.045}, {1.080, 1.090}, {1.120, 1.140}},
	Rise:         {{0.030, 0.045}, {0.065, 0.075}, {0.110, 0.130}},
	RiseTime:     {{0.015, 0.025}, {0.045, 0.050}, {0.080, 0.100}},
	Attack:       {{0.002, 0.004}, {0.012, 0.016}, {0.045, 0.065}},
	Release:      {{0.005, 0.010}, {0.025, 0.035}, {0.070, 0.090}},
	SecondDB:     {{-38, -34}, {-26, -24}, {-19, -15}},
	ThirdDB:      {{-33, -29}, {-21, -19}, {-15, -12}},
	BreathDB:     {{-46, -40}, {-28, -26}, {-18, -13}},
	Flutter:      {{8, 11}, {21, 25}, {42, 60}, {75, 95}},
	FlutterWidth: {{0.008, 0.015}, {0.045, 0.055}, {0.110, 0.135}},
	FlutterLevel: {{0.05, 0.15}, {0.45, 0.55}, {0.80, 0.90}},
}
