// Package quiz makes a quiz of examples: it draws them from bouts, makes the film
// that is shown to a group, in which nothing tells the answers, and the trainer's
// solution.
package quiz
