// Package http names the statuses of answers that the bench gives, as the standard library's package of that name does.
// That one links a whole network, which a program compiled for a browser has no use for.
package http

// The statuses, by RFC 9110.
const (
	StatusOK                  = 200
	StatusCreated             = 201
	StatusAccepted            = 202
	StatusSeeOther            = 303
	StatusBadRequest          = 400
	StatusUnauthorized        = 401
	StatusForbidden           = 403
	StatusNotFound            = 404
	StatusMethodNotAllowed    = 405
	StatusConflict            = 409
	StatusLocked              = 423
	StatusTooManyRequests     = 429
	StatusInternalServerError = 500
	StatusServiceUnavailable  = 503
)
