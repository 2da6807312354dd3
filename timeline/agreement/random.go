package agreement

import "math/rand/v2"

// random is a generator that gives the same numbers for the same seed.
func random(seed uint64) *rand.Rand {
	return rand.New(rand.NewPCG(seed, 0x61677265656d656e))
}
