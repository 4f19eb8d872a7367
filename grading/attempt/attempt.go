package attempt

import "fmt"

// Attempt is one student's work on one sheet.
type Attempt struct {
	Sheet      string
	Student    string // who got a spare sheet; "" on a sheet that was meant for somebody
	Name       string
	Steps      []Step
	Conclusion Conclusion
	Void       []Conclusion // conclusions that the desk has taken back
	Devices    []Device     // by number, from 1
	Extra      int          // minutes
	Last       int64        // when the student last did something, by the clock of the journal
	Version    int          // number of events so far: two equal versions of a sheet are the same
}

// Step is one committed test.
type Step struct {
	Number   int // from 1, void ones counted
	Key      string
	Test     string // id
	Expect   string
	Good     Verdict
	RulesOut string
	Void     string // why it counts for nothing, "" while it counts
	At       int64
}

// Conclusion is the repair with its reason; Repair is "" where there is none yet.
type Conclusion struct {
	Key, Repair, Reason string
	Void                string // why it was taken back
	At                  int64
}

// Made tells whether there is a conclusion.
func (c Conclusion) Made() bool { return c.Repair != "" }

// Device is a telephone or computer that was let in.
type Device struct{ Left bool }

// Begun tells whether a test was committed or a repair concluded.
func (a *Attempt) Begun() bool { return len(a.Steps) > 0 || a.Conclusion.Made() }

// Active tells whether a device is signed in.
func (a *Attempt) Active(device int) bool {
	return device >= 1 && device <= len(a.Devices) && !a.Devices[device-1].Left
}

// Signed counts the devices that are signed in.
func (a *Attempt) Signed() int {
	n := 0
	for _, d := range a.Devices {
		if !d.Left {
			n++
		}
	}
	return n
}

// Counting are the steps that were not voided, in their order.
func (a *Attempt) Counting() []Step {
	var steps []Step
	for _, s := range a.Steps {
		if s.Void == "" {
			steps = append(steps, s)
		}
	}
	return steps
}

// Why says for what reason an event is refused.
type Why string

// The reasons.
const (
	Wrong     Why = "wrong"     // what was sent makes no sense whatever was done before
	KeyUsed   Why = "key used"  // the key stands for something else
	Unjudged  Why = "unjudged"  // a reading waits for its verdict
	Settled   Why = "settled"   // the verdict can be changed no more
	Concluded Why = "concluded" // there is a conclusion
	Full      Why = "full"      // no more steps
	NoStep    Why = "no step"   // there is no such step
	Given     Why = "given"     // the sheet is another student's
)

// Refusal is an event that may not happen, with what is recorded instead.
type Refusal struct {
	Why  Why
	Text string
	Step int // the step that the refusal is about, 0 for none
}

func (r *Refusal) Error() string { return r.Text }

func refuse(why Why, step int, format string, args ...any) error {
	return &Refusal{why, fmt.Sprintf(format, args...), step}
}

// Asks tells whether the reading of a test asks for a verdict. It is asked only about tests that were committed.
type Asks func(test string) bool

// Check decides on an event before it is written down. News is false where the same was recorded before: the request
// came twice, and its answer is the same. The error is a [Refusal].
func (a *Attempt) Check(e Event, asks Asks) (news bool, err error) {
	if err := e.sound(); err != nil {
		return false, refuse(Wrong, 0, "%v", err)
	}
	switch e.Kind {
	case Commit:
		return a.checkCommit(e, asks)
	case Judge:
		return a.checkVerdict(e)
	case Conclude:
		return a.checkConclusion(e)
	case Void:
		return a.checkVoid(e)
	case Leave:
		return a.Active(e.Device), nil
	case Give:
		if a.Student != "" && a.Student != e.Student {
			return false, refuse(Given, 0, "the sheet was given to another student already")
		}
		return a.Student == "", nil
	}
	return true, nil
}

func (a *Attempt) checkCommit(e Event, asks Asks) (bool, error) {
	for _, s := range a.Steps {
		if s.Key != e.Key {
			continue
		}
		if s.Test == e.Test && s.Expect == e.Expect {
			return false, nil
		}
		return false, refuse(KeyUsed, s.Number, "this form has been used for step %d", s.Number)
	}
	switch last := len(a.Steps); {
	case a.concludedWith(e.Key):
		return false, refuse(KeyUsed, 0, "this form has been used for the conclusion")
	case a.Conclusion.Made():
		return false, refuse(Concluded, 0, "the conclusion is made")
	case last >= MostSteps:
		return false, refuse(Full, 0, "the record holds no more than %d steps", MostSteps)
	case last > 0 && asks != nil && a.Steps[last-1].Void == "" && a.Steps[last-1].Good == Unsaid &&
		asks(a.Steps[last-1].Test):
		return false, refuse(Unjudged, last, "judge the reading of step %d first: good, bad or no verdict", last)
	}
	return true, nil
}

func (a *Attempt) concludedWith(key string) bool {
	for _, c := range append(a.Void[:len(a.Void):len(a.Void)], a.Conclusion) {
		if c.Made() && c.Key == key {
			return true
		}
	}
	return false
}

func (a *Attempt) checkVerdict(e Event) (bool, error) {
	if e.Step < 1 || e.Step > len(a.Steps) {
		return false, refuse(NoStep, 0, "there is no step %d", e.Step)
	}
	s := a.Steps[e.Step-1]
	same := s.Good == e.Good && s.RulesOut == e.RulesOut
	switch {
	case same:
		return false, nil
	case s.Void != "":
		return false, refuse(Settled, s.Number, "step %d was taken back by the desk", s.Number)
	case e.Step < len(a.Steps):
		return false, refuse(Settled, s.Number, "step %d is settled: another test was committed after it", s.Number)
	case a.Conclusion.Made():
		return false, refuse(Settled, s.Number, "step %d is settled: the conclusion is made", s.Number)
	}
	return true, nil
}

func (a *Attempt) checkConclusion(e Event) (bool, error) {
	for _, c := range append(a.Void[:len(a.Void):len(a.Void)], a.Conclusion) {
		if c.Made() && c.Key == e.Key {
			if c.Repair == e.Repair && c.Reason == e.Reason {
				return false, nil
			}
			return false, refuse(KeyUsed, 0, "this form has been used for the conclusion")
		}
	}
	for _, s := range a.Steps {
		if s.Key == e.Key {
			return false, refuse(KeyUsed, s.Number, "this form has been used for step %d", s.Number)
		}
	}
	if a.Conclusion.Made() {
		return false, refuse(Concluded, 0, "the conclusion is made")
	}
	return true, nil
}

func (a *Attempt) checkVoid(e Event) (bool, error) {
	switch {
	case e.Reason == "":
		return false, refuse(Wrong, e.Step, "give a reason")
	case e.Step == 0 && !a.Conclusion.Made():
		return false, refuse(NoStep, 0, "there is no conclusion")
	case e.Step < 0 || e.Step > len(a.Steps):
		return false, refuse(NoStep, 0, "there is no step %d", e.Step)
	case e.Step > 0 && a.Steps[e.Step-1].Void != "":
		return false, nil
	}
	return true, nil
}

// apply makes an event that was checked part of the attempt.
func (a *Attempt) apply(e Event) {
	a.Version++
	switch e.Kind {
	case Commit:
		a.Steps = append(a.Steps, Step{Number: len(a.Steps) + 1, Key: e.Key, Test: e.Test, Expect: e.Expect, At: e.At})
	case Judge:
		s := &a.Steps[e.Step-1]
		s.Good, s.RulesOut = e.Good, e.RulesOut
	case Conclude:
		a.Conclusion = Conclusion{Key: e.Key, Repair: e.Repair, Reason: e.Reason, At: e.At}
	case Void:
		if e.Step > 0 {
			a.Steps[e.Step-1].Void = e.Reason
			break
		}
		a.Conclusion.Void = e.Reason
		a.Void, a.Conclusion = append(a.Void, a.Conclusion), Conclusion{}
	case Claim:
		a.Devices = append(a.Devices, Device{})
	case Leave:
		a.Devices[e.Device-1].Left = true
	case Give:
		a.Student, a.Name = e.Student, e.Name
	case Extra:
		a.Extra += e.Minutes
	}
	switch e.Kind {
	case Commit, Judge, Conclude, Claim:
		a.Last = e.At
	}
}

// Copy is the attempt as it stands: what happens later does not change it.
func (a *Attempt) Copy() Attempt {
	c := *a
	c.Steps = append([]Step(nil), a.Steps...)
	c.Void = append([]Conclusion(nil), a.Void...)
	c.Devices = append([]Device(nil), a.Devices...)
	return c
}
