// Command whistletrain teaches the judge that tells officials' whistles from
// other sounds and writes its weights. Equal seeds give equal weights on one
// kind of machine. It is for developers: the program carries the weights.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"

	"whistlecut/timeline/whistle/train"
)

func main() {
	out := flag.String("out", "timeline/whistle/judge.weights", "file to write")
	scenes := flag.Int("scenes", 500, "scenes to make")
	seconds := flag.Float64("seconds", 10, "length of a scene")
	epochs := flag.Int("epochs", 8, "times to go through all examples")
	seed := flag.Uint64("seed", 1, "of everything random")
	h1 := flag.Int("hidden", 32, "units of the first hidden layer; the second has half")
	flag.Parse()
	if err := run(*out, *scenes, *epochs, *h1, *seconds, *seed); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(out string, scenes, epochs, h1 int, seconds float64, seed uint64) error {
	r := rand.New(rand.NewPCG(seed, 3))
	var learn, held []train.Example
	for i := range scenes {
		sc := train.NewScene(seed*1_000_003+uint64(i), seconds)
		ex := sc.Examples(r, 0.15, 0.2)
		if i%10 == 9 {
			held = append(held, ex...)
		} else {
			learn = append(learn, ex...)
		}
		if i%50 == 49 {
			fmt.Printf("%d scenes, %d examples\n", i+1, len(learn)+len(held))
		}
	}
	net := train.Teach(os.Stdout, learn, held, h1, h1/2, epochs, seed)
	tmp := out + ".new"
	if err := os.WriteFile(tmp, net.Encode(), 0o644); err != nil {
		return fmt.Errorf("cannot write the weights: %w; check that the folder exists", err)
	}
	return os.Rename(tmp, out)
}
