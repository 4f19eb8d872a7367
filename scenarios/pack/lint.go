package pack

// lint looks for likely mistakes that need no simulation. It runs on a pack without errors.
func (r *reader) lint() {}
