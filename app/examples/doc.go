// Package examples makes examples for officials' training out of what is tagged in
// one bout: penalties, passes, leads and moments that nobody called. It lists them,
// takes other trainers' opinions, which are given blind, and says what changed
// between the edition an example was judged by and another.
package examples
