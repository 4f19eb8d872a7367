package http

import (
	"net/http"
	"testing"
)

// TestStatuses compares with the standard library, which has its numbers from RFC 9110.
func TestStatuses(t *testing.T) {
	check := func(name string, ours, theirs int) {
		t.Helper()
		if ours != theirs {
			t.Errorf("%s is %d, want %d", name, ours, theirs)
		}
	}
	check("OK", StatusOK, http.StatusOK)
	check("Created", StatusCreated, http.StatusCreated)
	check("Accepted", StatusAccepted, http.StatusAccepted)
	check("SeeOther", StatusSeeOther, http.StatusSeeOther)
	check("BadRequest", StatusBadRequest, http.StatusBadRequest)
	check("Unauthorized", StatusUnauthorized, http.StatusUnauthorized)
	check("Forbidden", StatusForbidden, http.StatusForbidden)
	check("NotFound", StatusNotFound, http.StatusNotFound)
	check("MethodNotAllowed", StatusMethodNotAllowed, http.StatusMethodNotAllowed)
	check("Conflict", StatusConflict, http.StatusConflict)
	check("Locked", StatusLocked, http.StatusLocked)
	check("TooManyRequests", StatusTooManyRequests, http.StatusTooManyRequests)
	check("InternalServerError", StatusInternalServerError, http.StatusInternalServerError)
	check("ServiceUnavailable", StatusServiceUnavailable, http.StatusServiceUnavailable)
}
