// Package caption writes what is said under the clips of a reel as subtitle files
// that players show and people translate: WebVTT and SubRip (.srt), one file a
// language. It reads back what it writes, and simple files of others.
package caption
