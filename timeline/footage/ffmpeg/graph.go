package ffmpeg

import (
	lib "github.com/u2takey/ffmpeg-go"
)

func init() {
	// The library logs every composed command to the standard log otherwise.
	lib.LogCompiledCommand = false
}
