// Package pack makes what one skater takes home: her clips and a page that plays
// them on a phone without a network, kept under a size that messengers carry.
// It knows films and words, and nothing of bouts.
package pack
