// Package chart works out the charts of a bout in numbers, for paper and screen
// alike: what lies where, in jams from left to right and points from below upwards.
// Who draws them brings scale, colours and letters.
package chart
