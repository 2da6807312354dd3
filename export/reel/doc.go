// Package reel joins cards and stretches of film into one film: H.264 and AAC
// in an MP4 at a steady rate, with chapters.
//
// [Reel.Make] makes each section by itself, as a small file in a work folder
// beside the reel, and then writes the reel from them by copying. So memory and
// open files don't grow with the number of sections, and a reel that was stopped
// goes on where it was.
//
// Times are exact: a section has the number of frames that its length has at the
// reel's rate, and the sound of the whole reel is cut by samples counted from
// the reel's start, so that nothing drifts however many sections there are.
package reel
