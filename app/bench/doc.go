// Package bench holds the measurements that the command line prints: exactness
// of clips, cost of cutting. Each makes its own films, with a number drawn into
// every frame and clicks in the sound, and reads the results back.
package bench
