// Package clip cuts exact clips out of films: the first and the last frame
// shown are the ones asked for, and the sound stays in step.
//
// Where the film allows it, a clip is copied from the first key frame on, only
// the frames before that key frame (the head) and the last one to three frames
// behind the last complete group (the tail) are encoded anew, and the parts are
// joined by writing the MP4 file here. A clip that starts at a key frame is
// copied without starting ffmpeg at all. Where a condition is not met, and
// where a caption is drawn, the whole window is encoded. [Result] says which
// way was taken and why.
//
// ffmpeg never seeks in the film: it is fed, through a pipe, exactly the coded
// frames it needs, as a small MP4 written here. That makes the choice of frames
// independent of how ffmpeg seeks, and spares it reading the whole movie box.
package clip
