// Package train teaches the judge of package whistle.
//
// It makes scenes of its own (scene.go): whistles by physical description
// (clusters of one to four tones that beat, the flutter of a pea, a rise at the
// start, breath), with parameters drawn far wider than any one model, among
// voices, music, beeps, squeaks, claps and noise (bystanders.go), in rooms of
// exponentially dying noise, at first of single reflections in some of them
// (room.go), through microphones with resonances, narrow lines, automatic gain and
// clipping. The judge learns from nothing else: nothing of the demo films' sound is
// used. Ranges are common practice, no source, unless package whistle gives one; a
// pea's flutter goes up to 95 a second because a recording of a real one has 82
// (Debian's package tuxfootball 0.3.1, refwhistlelong.wav, measured with SciPy).
//
// The weigher (weigher.go) learns from candidates that the trained judge gives in
// such scenes and in bouts of the demo films' tuning and outer families, never of
// their evaluation family.
package train
