// Package ffmpeg starts ffmpeg and ffprobe. It is the only package that starts
// a process and the only one that knows the ffmpeg-go library.
//
// Start with [Default] and [Runner.Run] for work that ends in a file,
// [Runner.WriteFile] when that file must appear only when it is whole,
// [Runner.Start] for raw frames or sound as a stream, and [Runner.Probe] for
// ffprobe. Argument lists are plain slices: compose them by hand or with
// [Graph], which rests on ffmpeg-go, and compare them in tests without ffmpeg.
//
// Every child gets its own process group, no standard input unless one is
// given, an interrupt when its context ends and a kill when it does not listen.
// Errors are of type [*Error]: one sentence with what was attempted, on what,
// the cause and what to do. The end of the child's own log is kept in them.
//
// # ffmpeg-go
//
// The library is used to compose graphs and nothing else: its own way of
// starting ffmpeg loses the context and the binary path when arguments are
// added, drops the child's log and reports no progress. It panics on bad
// graphs, takes two inputs with exchanged option values for one (the identity
// of a node is a plain sum of hashes, without the filter's name), writes
// durations and small numbers in forms ffmpeg rejects and does not escape
// filter values. [Graph] recovers the panics, writes the numbers, escapes the
// values and counts inputs and filters in the result, so that a collapsed graph
// is an error and not a wrong film.
//
// # The cloud SDK
//
// ffmpeg-go links an AWS SDK for outputs named s3://, which this program never
// writes: nothing leaves the machine. go.mod replaces that module by the stub
// in the folder awsstub, which has just the names ffmpeg-go needs and refuses
// to upload. The reason: a program that composes one argument list and starts it
// shrinks from 11.3 to 2.4 MB (stripped, linux/amd64, Go 1.26) and from 250 to
// 84 linked packages, and no network client is shipped that nobody asked for. The
// price: `go install module@version` refuses a module with a replace line, so
// the program is built from its checkout; and a new version of ffmpeg-go may
// need another name in the stub, which the compiler will say.
package ffmpeg
