// Package whistle turns sound into whistle blasts and series of blasts: it hears
// the officials.
//
// Start at Listener: write mono samples at Rate, close it, read the Result. It
// streams: memory does not grow with the length of the sound, only with the
// number of blasts found.
//
// How it hears. The sound is cut into short windows (stft.go). In every window
// the narrow humps of the spectrum that stand out from their surroundings are
// looked at (frame.go). What lies around a hump in time and pitch, seen from its
// own pitch and level (patch.go), is weighed by a trained judge (judge.go): is an
// official blowing here, and does a blast begin here? Beginnings are picked and
// followed until the blowing ends (pick.go). Each candidate is then described as a
// whole, among its neighbours and by the one it may be a piece of (describe.go) or
// a partial of (kinship.go), and weighed by trained trees (weigher.go): twice, for
// the second time its neighbours are known better. Pieces of a rolling whistle are
// told by all of them together (roll.go). Blasts at a steady beat are a series
// (series.go).
//
// What a series means in the bout (jam start, lead, end, penalty, timeout) is not
// decided here: four blasts end a jam or open a timeout, and only the bout tells.
//
// Pitch: officials' whistles in halls have fundamentals of 2.3 to 4.0 kHz, most
// below 3.3 kHz, rising 5 to 10 per cent in the first 50 ms, with the second
// harmonic about 25 dB and the third about 20 dB below (measured on hall
// recordings; common practice, no published source).
package whistle
