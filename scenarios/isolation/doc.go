// Package isolation finds best play in a diagnosis: the sequence of tests that reaches a conclusion in the least
// expected time, proven optimal. It knows hypotheses with weights, the repair that each calls for, and tests with
// minutes and the band each shows under each hypothesis; it knows nothing of cars, and imports nothing of this program.
//
// Start with New, then ask the Solver about a Set of hypotheses: Value for the time that best play needs, Cost for the
// time when a certain test comes first, Best for that test, After for what a reading leaves. All values are integers,
// minutes times weight, so that equal is equal and a loss of zero means zero.
//
// V(S) is 0 if nothing that can still be told apart in S calls for different repairs; otherwise
//
//	V(S) = min over tests t of Q(S,t),   Q(S,t) = minutes(t) + sum over bands P(band|S) V(S with band)
//
// and the package computes W(S) = weight(S) V(S). Hypotheses that no test tells apart count as one that carries the set
// of their repairs.
//
// How it works: search.go compares the tests of a set, keeping what is known of each set in memo.go. What makes large
// problems tractable is the lower bound of block.go, the sum of the values of parts of a set, which are solved by the
// same search or looked up in tables. lineup.go is the closed form for tests that each pick out one thing; greedy.go is
// the rule of thumb that best play is compared with, and the upper end of a bracket when a limit stops the proof.
//
// Circuit-like data of 60 hypotheses and 150 tests take about a tenth of a second, 80 about one; the benchmark says
// more. Hardest are dozens of hypotheses with nothing but tests that each single out a few overlapping ones: there
// Limits keep the time in bounds.
//
// It is not a heuristic (GreedyValue is, for comparison), it does not model tests that err or cost different amounts in
// different orders, and it does not weigh the cost of a wrong repair.
package isolation
