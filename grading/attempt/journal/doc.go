// Package journal keeps what happens in a lab in a file that is only added to, one line an event.
//
// [Read] gives the events of a file, [Open] goes on with one. A line is JSON with a number and a chain: an HMAC, under
// a key for this lab alone, of the line and of the chain before it. So a changed, swapped or missing line is found, and
// its number is told. What is not found is whole lines that are missing at the end: only a closing line says that
// nothing did follow but the release of debriefs, on which no mark depends. The last line may be torn by a power cut;
// it was never acknowledged, so it is dropped and told.
//
// [Writer.Append] returns when the line has reached the disk. Lines that come while the disk is busy share the next
// sync.
package journal
