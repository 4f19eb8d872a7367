package labtest

import "nospark/scenarios/lab"

// The open lamp is the lamp lab with checks: before the lamp is sold its feed and its ground must have been looked at,
// before the switch its end at the battery. The ground is proven by the reading that condemns it. Each check that is
// owed stands for a cause that is not on the list and weighs a fifth of its row. X is what such a cause shows.
//
//	weight  suspect              battery  feed       ground     resistance
//	15      switch open    A     normal   none -     normal     normal
//	10      burnt          B     normal   dropped -  normal     normal
//	20      lamp open      C     normal   normal     normal     open -
//	5       corroded       D     normal   normal     dropped -  normal
//	3       A, end owed    a     X        none       normal     normal
//	2       B, end owed    b     X        dropped    normal     normal
//	4       C, feed owed   f     normal   X          normal     open
//	4       C, ground owed g     normal   normal     X          open
//	minutes                      1        2          2          5
//
// In tenths, times weight. From nothing, 63: the feed leaves {A,a} 18, {B,b} 12, {f} and {C,D,g} 29; the battery
// decides the first two for 10 each, the ground the last for 20: 20 x 63 + 10 x 18 + 10 x 12 + 20 x 29 = 2140, V =
// 33.97, printed 34. Another test first loses the difference over 63:
//
//	battery     10 x 63; {a,b} end; {A,B,C,D,f,g} 58: feed 20 x 58 + ground 20 x 29                = 2370, loses 3.65
//	ground      20 x 63; {A,B,C,a,b,f} 54: feed 20 x 54 + 180 + 120                                = 2640, loses 7.94
//	resistance  50 x 63; {C,f,g} 28: feed 20 x 28 + ground 20 x 24; {A,B,D,a,b} 35: battery 10 x 35 +
//	            20 x 30                                                               = 5140, loses 47.62
//
// Case 1 gives "feed normal": {C,D,g} 29 is left, V = 20. Case 2 gives "battery normal": {A,B,C,D,f,g} 58, V = (20 x 58
// + 20 x 29)/58 = 30.
const (
	FeedCheck = iota
	GroundCheck
	EndCheck
)

func OpenLamp() *lab.Lab {
	l := Lamp()
	l.Format, l.Name = lab.Format, "open-lamp"
	l.Checks = []lab.Check{
		{What: "feed", Part: "lamp", Label: "Lamp", Point: 1, Tests: []int{Feed}},
		{What: "ground", Part: "lamp", Label: "Lamp", Point: 2, Tests: []int{Ground}},
		{What: "end", Part: "switch", Label: "Switch", Point: 0, Tests: []int{Battery}},
	}
	for i, weight := range []int64{15, 10, 20, 5} {
		l.Hypotheses[i].Weight = weight
	}
	l.Hypotheses[0].Checks, l.Hypotheses[1].Checks = []int{EndCheck}, []int{EndCheck}
	l.Hypotheses[2].Checks = []int{FeedCheck, GroundCheck}
	l.Cases = []lab.Case{{}, {Known: []lab.Known{{Test: Feed}}}, {Known: []lab.Known{{Test: Battery}}}}
	for sheet, at := range []int{0, 2, 0, 1, 1} {
		l.Sheets[sheet].Case = at
	}
	return l
}
