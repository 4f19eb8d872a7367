// Package wording writes quantities, names and lists the same way on everything that a person reads.
package wording
