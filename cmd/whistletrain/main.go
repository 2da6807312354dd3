// Command whistletrain teaches the listener of package whistle and writes its
// weights. It is for developers: the program carries the weights.
//
// There are two steps, the judge first, for the weigher learns from what the
// judge says:
//
//	go run ./cmd/whistletrain judge -seed 1 -scenes 9000 -seconds 7 -hidden 128 -epochs 7
//	go run ./cmd/whistletrain weigher -seed 1 -bouts 24 -jams 5 -scenes 400
//
// which are the defaults. The weights in the program are what one run of each gave:
// the judge takes 18 minutes of two processors and some gigabytes, the weigher 9.
// Sums are taken in a fixed order, so that equal seeds give equal weights on one kind
// of processor; small runs of both were repeated with the same bytes.
package main

import (
	"context"
	"crypto/sha256"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"slices"
	"sync"

	"whistlecut/app/bench"
	"whistlecut/timeline/whistle"
	"whistlecut/timeline/whistle/train"
)

func main() {
	// The examples are gigabytes: rather collect garbage more often than need twice
	// their room.
	debug.SetGCPercent(30)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) error {
	if len(args) > 0 {
		switch args[0] {
		case "judge":
			return judge(ctx, args[1:])
		case "weigher":
			return weigher(ctx, args[1:])
		}
	}
	return fmt.Errorf("say what to teach: whistletrain judge, then whistletrain weigher")
}

func judge(ctx context.Context, args []string) error {
	f := flag.NewFlagSet("judge", flag.ExitOnError)
	dir := f.String("dir", "timeline/whistle", "folder of the weights")
	scenes := f.Int("scenes", 9000, "scenes to make")
	seconds := f.Float64("seconds", 7, "length of a scene")
	epochs := f.Int("epochs", 7, "times to go through all examples")
	seed := f.Uint64("seed", 1, "of everything random")
	hidden := f.Int("hidden", 128, "units of the first hidden layer; the second has half")
	if err := f.Parse(args); err != nil {
		return err
	}
	all, err := eachScene(ctx, *scenes, *seed*1_000_003, func(int) float64 { return *seconds }, func(i int, sc train.Scene) ([]train.Example, error) {
		return sc.Examples(rand.New(rand.NewPCG(*seed, 1000+uint64(i))), 0.10, 0.16), nil
	})
	if err != nil {
		return err
	}
	learn, held := split(all, 10)
	fmt.Printf("%d examples, %d more not learned from\n", len(learn), len(held))
	net := train.Teach(os.Stdout, learn, held, *hidden, *hidden/2, *epochs, *seed)
	return write(filepath.Join(*dir, "judge.weights"), net.Encode())
}

func weigher(ctx context.Context, args []string) error {
	f := flag.NewFlagSet("weigher", flag.ExitOnError)
	dir := f.String("dir", "timeline/whistle", "folder of the weights")
	bouts := f.Int("bouts", 24, "bouts of the tuning family, and as many of the outer one, for each graded condition")
	jams := f.Int("jams", 5, "jams of a bout")
	scenes := f.Int("scenes", 400, "scenes to make besides: half of them last a minute, the others 3 to 12 s")
	seed := f.Uint64("seed", 1, "of the scenes")
	if err := f.Parse(args); err != nil {
		return err
	}
	b, err := os.ReadFile(filepath.Join(*dir, "judge.weights"))
	if err != nil {
		return fmt.Errorf("cannot read the weights of the judge: %w; teach the judge first", err)
	}
	net, err := whistle.ReadNet(b)
	if err != nil {
		return err
	}
	all, err := eachScene(ctx, *scenes, *seed*77_000_003, lengthOf, func(_ int, sc train.Scene) ([]train.Recording, error) {
		r, err := sc.Listen(net)
		return []train.Recording{r}, err
	})
	if err != nil {
		return err
	}
	learn, held := split(all, 4)
	l, h, err := bench.TuningRecordings(ctx, net, *bouts, *jams)
	if err != nil {
		return err
	}
	w := train.TeachWeigher(os.Stdout, append(learn, l...), append(held, h...))
	return write(filepath.Join(*dir, "weigher.weights"), w.Encode())
}

// lengthOf is how long the weigher's scenes are, s: in a clip there are few blasts to
// compare one with.
func lengthOf(i int) float64 {
	if i%8 >= 4 { // so that of those not learned from as many are short
		return float64(3 + i%10)
	}
	return 60
}

// eachScene makes scenes, two at a time, and what is wanted of each, in order.
func eachScene[T any](ctx context.Context, n int, first uint64, seconds func(i int) float64, do func(i int, sc train.Scene) ([]T, error)) ([][]T, error) {
	out := make([][]T, n)
	errs := make([]error, n)
	var wg sync.WaitGroup
	next := make(chan int)
	for range 2 {
		wg.Go(func() {
			for i := range next {
				if errs[i] = ctx.Err(); errs[i] == nil {
					out[i], errs[i] = do(i, train.NewScene(first+uint64(i), seconds(i)))
				}
			}
		})
	}
	for i := range n {
		next <- i
		if i%100 == 99 {
			fmt.Printf("%d scenes\n", i+1)
		}
	}
	close(next)
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("cannot make scenes to learn from: %w", err)
		}
	}
	return out, nil
}

// split keeps the last of every n lists apart.
func split[T any](all [][]T, n int) (learn, held []T) {
	var lists [2][][]T
	for i, list := range all {
		k := 0
		if i%n == n-1 {
			k = 1
		}
		lists[k] = append(lists[k], list)
	}
	// The examples are gigabytes: Concat takes just the room they need.
	return slices.Concat(lists[0]...), slices.Concat(lists[1]...)
}

// write replaces a file as a whole and says what is in it.
func write(name string, b []byte) error {
	tmp := name + ".new"
	if err := os.WriteFile(tmp, b, 0o644); err != nil {
		return fmt.Errorf("cannot write the weights: %w; check that the folder exists", err)
	}
	fmt.Printf("%s: %d bytes, SHA-256 %x\n", name, len(b), sha256.Sum256(b))
	return os.Rename(tmp, name)
}
