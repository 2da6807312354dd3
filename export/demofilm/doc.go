// Package demofilm turns a simulated bout into camera files: drawn as a camera
// on the stand sees it, sounded as its microphone hears it, cut as people
// record, with the truth beside it.
//
// Start with [Stage]. It writes two or three files of one camera (stopped in a
// timeout, the last one of variable frame rate, with names that sort wrongly),
// on demand a second camera in one file, and a JSON file ([Truth]) that says
// which jam is where in which file and when every whistle blast is heard.
// [RenderSound] gives the sound alone, as a stream.
//
// The drawing is in package picture, the sound in package sound; this package
// plans the files and feeds ffmpeg. Nothing here writes an official sheet.
package demofilm
