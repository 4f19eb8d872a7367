// Package review looks back at a lab that is graded: how a class did, for whoever plans the next one.
package review
