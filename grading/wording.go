package grading

import (
	"slices"
	"strings"
)

// join puts reasons into one line; empty ones vanish.
func join(reasons ...string) string {
	return strings.Join(slices.DeleteFunc(reasons, func(s string) bool { return s == "" }), "; ")
}
