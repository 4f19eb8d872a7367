package statistics

import "math"

// Cell is one measurement: what a person reached on a task. Persons and tasks count from 0, and each is there.
type Cell struct {
	Person, Task int
	Value        float64
}

// Components are the variances of a design of persons by tasks, in squared units of the values. Not every person has to
// have every task.
type Components struct {
	Persons, Tasks, Cells int
	DF                    int     // degrees of freedom of the residual
	Person, Task          float64 // variances; 0 where the estimate is below
	Residual              float64 // of person by task and error, which one sheet each cannot tell apart
	Residuals             []float64
}

// VarianceComponents fits value = person + task by least squares and estimates the variances by Henderson's method 3
// (Henderson, Biometrics 9, 1953; from memory), which needs no balance. With n cells, P persons, T tasks and c parts
// that share neither a person nor a task:
//
//	residual = SS(residual) / (n - P - T + c)
//	person   = (SS(person | task) - (P - c) residual) / (n - T)
//	task     = (SS(task | person) - (T - c) residual) / (n - P)
//
// Derivation of the divisors: SS(person | task) is y'(M - M12)y, with M the projection off the tasks and M12 off both.
// Its expectation has the coefficient tr(Z'MZ) of the variance of persons, Z their incidence: n minus the sum over
// tasks of the squared entries of Z'1 of the task over its size, which is k/k = 1 for each of T tasks, since a person
// has a task once. Its degrees of freedom are rank(persons, tasks) - rank(tasks) = (P + T - c) - T. The balanced case
// gives the mean squares of any textbook (Brennan, Generalizability Theory, 2001; from memory).
//
// ok is false where nothing is left for the residual, or persons or tasks are fewer than two.
func VarianceComponents(cells []Cell) (c Components, ok bool) {
	for _, x := range cells {
		c.Persons, c.Tasks = max(c.Persons, x.Person+1), max(c.Tasks, x.Task+1)
	}
	c.Cells = len(cells)
	parts := connected(cells, c.Persons, c.Tasks)
	c.DF = c.Cells - c.Persons - c.Tasks + parts
	if c.DF < 1 || c.Persons < 2 || c.Tasks < 2 {
		return c, false
	}
	c.Residuals = residuals(cells, c.Persons, c.Tasks)
	within := func(of func(Cell) int, groups int) (sum float64) { // squared distances from the means of the groups
		for i, m := range means(cells, of, groups) {
			sum += (cells[i].Value - m) * (cells[i].Value - m)
		}
		return sum
	}
	rest := 0.0
	for _, r := range c.Residuals {
		rest += r * r
	}
	person, task := func(x Cell) int { return x.Person }, func(x Cell) int { return x.Task }
	c.Residual = rest / float64(c.DF)
	c.Person = variance(within(task, c.Tasks)-rest, c.Persons-parts, c.Cells-c.Tasks, c.Residual)
	c.Task = variance(within(person, c.Persons)-rest, c.Tasks-parts, c.Cells-c.Persons, c.Residual)
	return c, true
}

// variance solves the expectation of a sum of squares for its component.
func variance(squares float64, df, divisor int, residual float64) float64 {
	if divisor < 1 {
		return math.NaN()
	}
	return max(0, (squares-float64(df)*residual)/float64(divisor))
}

// means gives for each cell the mean of its group.
func means(cells []Cell, of func(Cell) int, groups int) []float64 {
	sum, n := make([]float64, groups), make([]float64, groups)
	for _, x := range cells {
		sum[of(x)] += x.Value
		n[of(x)]++
	}
	list := make([]float64, len(cells))
	for i, x := range cells {
		list[i] = sum[of(x)] / n[of(x)]
	}
	return list
}

// Bounds of the fit. The values are marks: a millionth of a point is far below what is printed.
const (
	closeEnough = 1e-6
	mostRounds  = 10_000
)

// residuals are what is left of the values after the least squares fit of persons and tasks. It takes the means of
// persons and of tasks off in turn, which converges to the fit (von Neumann's alternating projections).
func residuals(cells []Cell, persons, tasks int) []float64 {
	rest := append([]Cell{}, cells...)
	for range mostRounds {
		moved := 0.0
		for _, by := range []struct {
			of     func(Cell) int
			groups int
		}{{func(x Cell) int { return x.Person }, persons}, {func(x Cell) int { return x.Task }, tasks}} {
			for i, m := range means(rest, by.of, by.groups) {
				rest[i].Value -= m
				moved = max(moved, math.Abs(m))
			}
		}
		if moved < closeEnough {
			break
		}
	}
	list := make([]float64, len(rest))
	for i, x := range rest {
		list[i] = x.Value
	}
	return list
}

// connected counts the parts of the design that share neither a person nor a task.
func connected(cells []Cell, persons, tasks int) int {
	parent := make([]int, persons+tasks)
	for i := range parent {
		parent[i] = i
	}
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	parts := len(parent)
	for _, x := range cells {
		a, b := root(x.Person), root(persons+x.Task)
		if a != b {
			parent[a] = b
			parts--
		}
	}
	return parts
}

// Reliability is the share of the variance of a mean of n tasks that is between persons who had the same tasks:
// person / (person + residual / n), the coefficient of generalizability. NaN where nothing varies.
func (c Components) Reliability(n int) float64 {
	return c.Person / (c.Person + c.Residual/float64(n))
}

// Error is the standard error of a mean of n tasks as a measure of the same persons on the same tasks, in units of the
// values: root of residual / n.
func (c Components) Error(n int) float64 { return math.Sqrt(c.Residual / float64(n)) }
