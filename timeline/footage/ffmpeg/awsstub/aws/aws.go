// Package aws holds the one name of the cloud SDK's package that ffmpeg-go
// mentions. It does nothing.
package aws

// Config stands for the settings of a connection that is never made.
type Config struct{}
