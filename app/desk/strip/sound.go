package strip

import "whistlecut/timeline/whistle"

// sound is the shape a series is drawn in.
type sound uint8

const (
	soundUnclear sound = iota
	soundShort
	soundPair
	soundFour
	soundLong
	soundRolling
)

func soundOf(k whistle.Kind) sound {
	switch k {
	case whistle.Short:
		return soundShort
	case whistle.Pair:
		return soundPair
	case whistle.Four:
		return soundFour
	case whistle.Long:
		return soundLong
	case whistle.Rolling:
		return soundRolling
	}
	return soundUnclear
}

// ticks is how many ticks the shape has.
func (s sound) ticks() int {
	switch s {
	case soundPair:
		return 2
	case soundFour:
		return 4
	}
	return 1
}
