// Package sound makes what a camera in a derby hall records, with the truth
// about every whistle blast in it.
//
// Start with [New]: a [Schedule] (who blows when) and [Options] (how hard it is
// to hear) give a [Stream] that is read block by block in constant memory and
// runs many times faster than real time. [Stream.Truth] lists every blast with
// onset, offset, pitch, official and kind; [Graded] has the conditions that
// listening is measured at.
//
// Whistles are made by physical description, not from recordings: pealess ones
// as three chambers of slightly different length whose tones beat, pea ones as a
// tone that flutters between two pitches. Their parameters, like the rooms they
// sound in, come in two [Family] values whose ranges have nothing in common, so
// that what was tuned on one can be judged on the other.
//
// Times: the schedule is in game time; the stream and its truth are in film
// time, which starts at the stream's first sample. Levels are in dB. The
// whistle band is 2.0 to 4.5 kHz.
package sound
