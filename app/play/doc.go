// Package play gives the screen its frames and the loudspeaker its sound.
//
// A [Player] plays the film of one camera, which may lie in several files, as
// one line. Its one goroutine owns all state (core.go) and takes frames from
// three sources behind one interface (source.go): decoders running as children,
// a cache of decoded frames, and light copies ([Proxies]). Every frame goes by
// its number in the file's index, so that the time of a shown frame is exact at
// any frame rate, and a frame is shown only when it is the one wanted: answers
// to older requests can make the cache richer and nothing else.
//
// Playing follows a clock: the samples heard, or the wall clock where there is
// no sound, where the sound device fails, and at rates that are muted. The
// position that the clock gives never seeks: seeking is done by the caller
// alone.
//
// What decides is apart from what decodes and can be tested without children:
// line.go (positions over file edges), course.go (where playing is after a
// time), cache.go (what is kept), clock.go (what is heard), want.go (what to
// decode next).
package play
