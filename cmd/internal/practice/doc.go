// Package practice is the bench for somebody who practices alone: any number of vehicles, feedback at once, and a way
// from small systems to large ones.
//
// Start at [Game.Do], which answers the requests of one person and passes those about a vehicle on to package web. The
// vehicles come from shelves (shelf.go), on which everything that takes long was worked out beforehand. Marks are those
// of package grading, by the same formula as in class.
//
// It needs neither a server nor a secret, knows nothing of any class, and is compiled for browsers too. What somebody
// has practiced is a text (progress.go) that stays where the person keeps it; it is no evidence of competence and says
// so.
package practice
