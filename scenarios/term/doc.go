// Package term is what an instructor keeps for a term: its settings, its key, the plans of its labs and where people
// sit.
//
// Start at Read and Find (term.go) for a term's folder, at ParsePlan (plan.go) for what is asked of one lab, at ReadKey
// (key.go) for the secret from which everything hidden follows. It checks what can be checked without a pack or a
// roster; package build does the rest.
package term
