package ffmpeg

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	lib "github.com/u2takey/ffmpeg-go"
)

func init() {
	// The library logs every composed command to the standard log otherwise.
	lib.LogCompiledCommand = false
}

// Options are named options of an input, an output or a filter, without the
// leading dash. Values may be string, int, bool, float64 or time.Duration
// (written as seconds); an empty string is an option without a value. Options
// are written sorted by name; where order matters use an argument list of your
// own. An option of an output that stands more than once takes a []string.
type Options map[string]any

// Graph composes one ffmpeg argument list: inputs, filters between them,
// outputs. Methods never panic; the first mistake is kept and returned by Args.
// A Graph is for one goroutine.
type Graph struct {
	err     error
	inputs  int
	filters int
	outputs []*lib.Stream
}

// Node is a picture or sound stream inside a Graph.
type Node struct {
	graph  *Graph
	stream *lib.Stream
	used   *bool // shared by the selections of one filter's result
}

// Input adds a local film. Pick its streams with [Node.Pick]; a Node used as it
// is means ffmpeg's own choice of streams.
func (g *Graph) Input(path string, options Options) Node {
	merged := Options{"protocol_whitelist": "file,pipe"}
	for k, v := range options {
		merged[k] = v
	}
	return g.input(Local(path), merged)
}

// Generated adds an input of ffmpeg's lavfi device, such as "anullsrc=r=48000".
func (g *Graph) Generated(source string, options Options) Node {
	merged := Options{"f": "lavfi"}
	for k, v := range options {
		merged[k] = v
	}
	return g.input(source, merged)
}

func (g *Graph) input(name string, options Options) Node {
	n := Node{graph: g}
	g.try(func() {
		n.stream = lib.Input(name, g.keywords(options))
		g.inputs++
	})
	return n
}

// Pick chooses streams by a specifier: "v:0" for the first picture, "a:0" for
// the first sound, "3" for stream 3.
func (n Node) Pick(specifier string) Node {
	out := Node{graph: n.graph, used: n.used}
	n.graph.try(func() { out.stream = n.stream.Get(specifier) })
	return out
}

// Filter puts the node through a filter with named options.
func (n Node) Filter(name string, options Options) Node {
	return n.graph.Combine(name, options, n)
}

// Combine puts several nodes through one filter, such as overlay or concat, in
// the given order.
func (g *Graph) Combine(name string, options Options, nodes ...Node) Node {
	out := Node{graph: g, used: new(bool)}
	g.try(func() {
		streams := g.take(nodes)
		out.stream = lib.Filter(streams, name, nil, g.filterKeywords(options))
		g.filters++
	})
	return out
}

// Output writes nodes to a local file. Use [Graph.Pipe] for standard output.
func (g *Graph) Output(path string, options Options, nodes ...Node) {
	g.output(Local(path), options, nodes)
}

// Pipe writes nodes to standard output; options need "f", the format.
func (g *Graph) Pipe(options Options, nodes ...Node) {
	g.output("pipe:1", options, nodes)
}

func (g *Graph) output(name string, options Options, nodes []Node) {
	g.try(func() {
		if len(nodes) == 0 {
			panic("an output without a picture or sound")
		}
		g.outputs = append(g.outputs, lib.Output(g.take(nodes), name, g.keywords(options)))
	})
}

// Args returns the argument list, or the first mistake made while composing.
func (g *Graph) Args() (args []string, err error) {
	g.try(func() {
		switch len(g.outputs) {
		case 0:
			panic("no output")
		case 1:
			args = g.outputs[0].GetArgs()
		default:
			args = lib.MergeOutputs(g.outputs...).GetArgs()
		}
	})
	if g.err != nil {
		return nil, g.err
	}
	args = splitLists(args)
	// ffmpeg-go takes nodes with the same hash for one: count what came out.
	inputs := 0
	for i, a := range args {
		if a == "-i" && i+1 < len(args) {
			inputs++
		}
	}
	filters := 0
	if i := slices.Index(args, "-filter_complex"); i >= 0 {
		filters = 1 + countUnescaped(args[i+1], ';')
	}
	if inputs != g.inputs || filters != g.filters {
		return nil, fmt.Errorf("ffmpeg graph: %d inputs and %d filters were composed, %d and %d came out: "+
			"ffmpeg-go took two of them for one; write this argument list by hand", g.inputs, g.filters, inputs, filters)
	}
	return args, nil
}

// take unwraps nodes and refuses to use one filter's result twice, which needs
// a split filter.
func (g *Graph) take(nodes []Node) []*lib.Stream {
	var streams []*lib.Stream
	for _, n := range nodes {
		if n.stream == nil {
			panic("a node that was not made")
		}
		if n.graph != g {
			panic("a node of another graph")
		}
		if n.used != nil {
			if *n.used {
				panic("the result of one filter is used twice; a split filter is missing")
			}
			*n.used = true
		}
		streams = append(streams, n.stream)
	}
	return streams
}

// try keeps the first mistake and turns the library's panics into errors.
func (g *Graph) try(step func()) {
	if g.err != nil {
		return
	}
	defer func() {
		if p := recover(); p != nil {
			g.err = fmt.Errorf("ffmpeg graph: %v", p)
		}
	}()
	step()
}

// listSeparator keeps the values of a repeated option apart inside ffmpeg-go,
// which knows one value a name. NUL can't stand in an argument.
const listSeparator = "\x00"

func (g *Graph) keywords(options Options) lib.KwArgs {
	kw := lib.KwArgs{}
	for k, v := range options {
		if list, ok := v.([]string); ok {
			kw[k] = listSeparator + strings.Join(list, listSeparator)
			continue
		}
		kw[k] = optionText(v)
	}
	return kw
}

// filterKeywords writes filter options with the first of ffmpeg's two levels of
// escaping; ffmpeg-go adds the second.
func (g *Graph) filterKeywords(options Options) lib.KwArgs {
	kw := lib.KwArgs{}
	for k, v := range options {
		kw[k] = escapeValue(optionText(v))
	}
	return kw
}

// splitLists spreads the values of repeated options: -map a -map b.
func splitLists(args []string) []string {
	var out []string
	for _, a := range args {
		if !strings.HasPrefix(a, listSeparator) {
			out = append(out, a)
			continue
		}
		name := out[len(out)-1]
		out = out[:len(out)-1]
		for _, v := range strings.Split(a[1:], listSeparator) {
			out = append(out, name, v)
		}
	}
	return out
}

func optionText(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	case int64:
		return strconv.FormatInt(v, 10)
	case bool:
		if v {
			return "1"
		}
		return "0"
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case time.Duration:
		return Seconds(v)
	default:
		panic(fmt.Sprintf("an option of type %T", v))
	}
}

// Seconds writes a duration as ffmpeg reads it: decimal seconds to the
// microsecond, ffmpeg's own unit. Rounding is towards zero, so that a time that
// was meant to lie before a frame stays there.
func Seconds(d time.Duration) string {
	us := d.Microseconds()
	sign := ""
	if us < 0 {
		sign, us = "-", -us
	}
	return fmt.Sprintf("%s%d.%06d", sign, us/1e6, us%1e6)
}

// escapeValue escapes a filter option's value ("Notes on filtergraph escaping"
// in ffmpeg-filters, first level).
func escapeValue(s string) string {
	return strings.NewReplacer(`\`, `\\`, `'`, `\'`, `:`, `\:`).Replace(s)
}

func countUnescaped(s string, c byte) int {
	n := 0
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case c:
			n++
		}
	}
	return n
}
