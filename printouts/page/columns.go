package page

// Together keeps what build adds on one page, as far as a page can hold it.
func (f *Flow) Together(build func()) {
	units := f.gather(f.W, build)
	for i, u := range units {
		u.glue = u.glue || i < len(units)-1
		f.add(u)
	}
}

// take puts a column of units into a unit, x mm from its left.
func (whole *unit) take(column []unit, x float64) {
	if len(column) > 0 {
		whole.before = max(whole.before, column[0].before)
		whole.height = max(whole.height, pile(whole, column, x, 0))
	}
}

// pile adds the parts of units above each other to one unit and gives their height.
func pile(whole *unit, units []unit, x, y float64) float64 {
	top := y
	for i, u := range units {
		if i > 0 {
			y += u.before
		} else if u.again != nil {
			y += pile(whole, []unit{*u.again}, x, y)
		}
		for _, p := range u.parts {
			p.x, p.y = p.x+x, p.y+y
			whole.parts = append(whole.parts, p)
		}
		y += u.height
	}
	return y - top
}

// Columns sets what build adds in n columns, read downwards, with gap mm between them. The columns are made equally
// long, and go on on the next page if they must. Large print has fewer columns, so that a line holds about as many
// letters.
func (f *Flow) Columns(n int, gap float64, build func()) {
	if f.Sizes.Large() {
		n = max(1, n/2)
	}
	width := (f.W - gap*float64(n-1)) / float64(n)
	units := f.gather(width, build)
	for len(units) > 0 {
		ends := balance(units, n, f.columnRoom(units))
		var whole unit
		from := 0
		for i, end := range ends {
			whole.take(units[from:end], float64(i)*(width+gap))
			from = end
		}
		units = units[from:]
		f.add(whole)
		if len(units) > 0 {
			f.Turn()
		}
	}
}

// columnRoom is the height that columns may take, after a new page if the first chain of units needs one.
func (f *Flow) columnRoom(units []unit) float64 {
	if f.gathering != nil {
		return f.Page()
	}
	room := f.bottom - f.y - stack(f.held, f.fresh) - f.gap - units[0].before
	if !f.fresh && stack(units[:chain(units, 0)], true) > room {
		f.turn()
		room = f.Page() - stack(f.held, true)
	}
	return room
}

// balance finds the least height at which n columns hold the units, at most room, and gives where each column ends. If
// the room is too small the last end is not the last unit.
func balance(units []unit, n int, room float64) []int {
	height := min(room, stack(units, true)/float64(n))
	for {
		ends := pour(units, n, height)
		if ends[n-1] == len(units) || height >= room {
			return ends
		}
		const step = 0.5 // mm
		height = min(room, height+step)
	}
}

// pour fills n columns of a height and gives where each ends. A column takes at least one unit.
func pour(units []unit, n int, height float64) []int {
	ends := make([]int, 0, n)
	from := 0
	for range n {
		end, filled := from, 0.0
		for end < len(units) {
			next := chain(units, end)
			more := stack(units[end:next], end == from)
			if filled+more > height+1e-6 {
				if end == from {
					end++ // higher than any column
				}
				break
			}
			end, filled = next, filled+more
		}
		ends = append(ends, end)
		from = end
	}
	return ends
}

// chain gives where the units that stay together, beginning with one, end.
func chain(units []unit, from int) int {
	for i := from; i < len(units); i++ {
		if !units[i].glue {
			return i + 1
		}
	}
	return len(units)
}
