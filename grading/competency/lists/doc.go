// Package lists reads what people write into the folder of a term beside its records: signatures, ids that changed, the
// program's own tasks and what counts for them; and the register of awards, which this program writes and people read.
//
// Each list has a file of its own here. What the lines mean for somebody is for package competency to say.
package lists
