package statistics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// design draws values of persons by tasks. Every person belongs to one of the classes, each of which has tasks of its
// own; missing is the chance that a person has no value.
func design(random *rand.Rand, classes, persons, tasks int, missing, person, task, residual float64) []Cell {
	var cells []Cell
	for class := range classes {
		level := make([]float64, tasks)
		for j := range level {
			level[j] = 70 + task*random.NormFloat64()
		}
		for i := range persons {
			ability := person * random.NormFloat64()
			for j, l := range level {
				if j > 0 && random.Float64() < missing {
					continue
				}
				cells = append(cells, Cell{class*persons + i, class*tasks + j, l + ability +
					residual*random.NormFloat64()})
			}
		}
	}
	return cells
}

// TestBalancedComponents compares with the mean squares of a balanced design, as any textbook has them: persons (MSp -
// MSr)/T, tasks (MSt - MSr)/P.
func TestBalancedComponents(t *testing.T) {
	values := [][]float64{{2, 6, 7}, {4, 5, 9}, {8, 9, 9}, {1, 5, 6}}
	var cells []Cell
	var rows, columns [4]float64
	total := 0.0
	for i, row := range values {
		for j, v := range row {
			cells = append(cells, Cell{i, j, v})
			rows[i] += v / 3
			columns[j] += v / 4
			total += v / 12
		}
	}
	var person, task, rest float64
	for i, row := range values {
		person += 3 * (rows[i] - total) * (rows[i] - total) / 3
		for j, v := range row {
			r := v - rows[i] - columns[j] + total
			rest += r * r / 6
		}
	}
	for j := range 3 {
		task += 4 * (columns[j] - total) * (columns[j] - total) / 2
	}
	c, ok := VarianceComponents(cells)
	if !ok || c.DF != 6 || c.Persons != 4 || c.Tasks != 3 {
		t.Fatalf("%+v", c)
	}
	near(t, "residual", c.Residual, rest, 6)
	near(t, "persons", c.Person, (person-rest)/3, 6)
	near(t, "tasks", c.Task, (task-rest)/4, 6)
	near(t, "reliability of 3", c.Reliability(3), (person-rest)/person, 6)
	near(t, "error of 3", c.Error(3), math.Sqrt(rest/3), 6)
}

// TestComponentsAreUnbiased: over many designs with holes, and of several classes without a common task, the means of
// the estimates are the variances that were drawn from.
func TestComponentsAreUnbiased(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	var person, task, residual float64
	const runs = 300
	for range runs {
		c, ok := VarianceComponents(design(random, 3, 12, 8, .25, 12, 8, 20))
		if !ok {
			t.Fatal("no estimate")
		}
		person, task, residual = person+c.Person/runs, task+c.Task/runs, residual+c.Residual/runs
	}
	check := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got-want) > within*want {
			t.Errorf("%s %.1f, want %.1f", what, got, want)
		}
	}
	check("persons", person, 144, .06)
	check("tasks", task, 64, .12)
	check("residual", residual, 400, .02)
}

// TestErrorIsThatOfTheTruth: the standard error of a term mark lies within a tenth of the one that was drawn from,
// always for 240 persons and 12 tasks, and in 95 of 100 runs for 24.
func TestErrorIsThatOfTheTruth(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	within := func(runs, classes, persons int) (share float64) {
		for range runs {
			c, ok := VarianceComponents(design(random, classes, persons, 12, .05, 12, 8, 20))
			if want := 20 / math.Sqrt(12); ok && math.Abs(c.Error(12)-want) <= .1*want {
				share += 1 / float64(runs)
			}
		}
		return share
	}
	if s := within(30, 6, 40); s < .9999 {
		t.Errorf("240 persons: %.2f of the runs", s)
	}
	if s := within(1000, 1, 24); s < .95 {
		t.Errorf("24 persons: %.3f of the runs", s)
	}
}

// TestNoComponents: where nothing can be told apart nothing is told.
func TestNoComponents(t *testing.T) {
	for _, cells := range [][]Cell{nil, {{0, 0, 1}}, {{0, 0, 1}, {1, 0, 2}}, {{0, 0, 1}, {1, 1, 2}},
		{{0, 0, 1}, {0, 1, 2}, {1, 0, 3}}} {
		if c, ok := VarianceComponents(cells); ok {
			t.Errorf("%v: %+v", cells, c)
		}
	}
}
