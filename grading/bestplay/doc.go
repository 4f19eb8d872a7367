// Package bestplay knows the best way from a complaint to a repair: what it costs from any state, by whatever test one
// goes on, the way to each hidden fault as an answer key, and all ways at once as an isolation chart. It knows nothing
// of what students did.
//
// Start reading at Suspects.
package bestplay
