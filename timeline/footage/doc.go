// Package footage reads film files as they came off the cameras: what is in
// them, when each frame is shown, and the frames and the sound themselves. The
// work is done by ffmpeg in children, so that a broken film can't take the
// program down; tables of MP4 and MOV files are read directly.
//
// Start with [Open], which probes a file and reads its frame index, then
// [File.Frames] and [File.Sound]. [Order] puts the files of one camera in
// order, [FindMoved] finds files again by their [Fingerprint], and [Rewrap]
// turns a transport stream or Matroska file into an MP4 that can be cut and
// stepped through exactly.
//
// # Film time
//
// Film time is the position inside one file, counted from its first shown
// frame, which is at 0. Edit lists of MP4 and MOV are respected: frames hidden
// by them have no film time and no number. Frames are numbered from 0 in the
// order in which they are shown. Exact times are integer ticks of the stream's
// time base ([Index.PTS], [Index.Base]); a time.Duration is such a time rounded
// to the nearest nanosecond, which keeps frames apart at any rate a camera has.
//
// A missing file is a state and not a failure: errors of this package that are
// [ErrMissing] say that the file should be looked for.
package footage
