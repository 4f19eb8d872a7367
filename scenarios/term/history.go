package term

// Had is a fault that was hidden on an earlier sheet of a student. Ids mean something within their pack only.
type Had struct{ Pack, Fault, Repair string }

// History lists by student id what they have had in earlier labs of the term.
type History map[string][]Had
