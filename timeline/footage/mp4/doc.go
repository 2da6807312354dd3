// Package mp4 reads and writes the boxes of MP4 and QuickTime files
// (ISO/IEC 14496-12, ISO base media file format; 14496-14 for MP4; Apple's
// QuickTime File Format for the older forms). It knows tracks, edit lists,
// sample entries and sample tables; it decodes no picture and no sound.
//
// Read loads only the movie box: a film of an hour takes a few megabytes and a
// few hundredths of a second, whatever the size of the file. What a file
// claims is checked against its real size before anything is allocated.
package mp4
