package web

import (
	"html/template"

	"nospark/cmd/internal/web/http"

	"nospark/grading/attempt"
	"nospark/printouts/content"
)

// sheetJSON is a sheet with its record.
type sheetJSON struct {
	Code       string          `json:"code"`
	Complaint  string          `json:"complaint"`
	Known      []knownJSON     `json:"known"`
	Steps      []stepJSON      `json:"steps"`
	Minutes    float64         `json:"minutes"`
	Tests      []testJSON      `json:"tests"`
	Repairs    []repairJSON    `json:"repairs"`
	Conclusion *conclusionJSON `json:"conclusion"`
	State      string          `json:"state"`   // open, paused, concluded or closed
	Version    string          `json:"version"` // as the live events have it
}

// knownJSON is a reading that the work order gives.
type knownJSON struct {
	Test    string `json:"test"`
	Reading string `json:"reading"`
}

// testJSON is a test that can be chosen.
type testJSON struct {
	ID      string  `json:"id"`
	Label   string  `json:"label"`
	Minutes float64 `json:"minutes"`
}

// repairJSON is a repair that can be concluded.
type repairJSON struct {
	Code  string `json:"code"`
	Label string `json:"label"`
}

// sheet shows a sheet with its record.
func (b *Bench) sheet(s *seat, r Request) Answer {
	version := b.Version(s.sheet.Code)
	s.mu.Lock()
	defer s.mu.Unlock()
	now, may := "", false
	b.Look(func(room *attempt.Room) { now, may = state(room, s.attempt), mayRead(room, s.attempt) })
	if !r.JSON {
		v := b.pages.view(s, now, may, version)
		if b.left != nil && now != "concluded" {
			v.Left = b.left(s.sheet.Code)
		}
		return b.pages.answer(http.StatusOK, "sheet", v)
	}
	j := sheetJSON{Code: s.sheet.Code, Complaint: s.sheet.Complaint, Known: []knownJSON{}, Steps: []stepJSON{},
		Minutes: minutes(s.minutes()), State: now, Version: version}
	for _, k := range s.sheet.Known {
		j.Known = append(j.Known, knownJSON(k))
	}
	for i := range s.attempt.Steps {
		j.Steps = append(j.Steps, s.step(i+1))
	}
	for _, g := range s.class.Groups {
		for _, t := range g.Tests {
			j.Tests = append(j.Tests, testJSON{t.ID, t.Label, minutes(t.Minutes)})
		}
	}
	for _, rep := range s.class.Reference.Repairs {
		j.Repairs = append(j.Repairs, repairJSON{rep.Code + rep.Letters, rep.Label})
	}
	if c := s.attempt.Conclusion; c.Made() {
		j.Conclusion = &conclusionJSON{c.Repair, c.Reason}
	}
	return asJSON(http.StatusOK, j)
}

// debriefPage is what a student reads after the release.
type debriefPage struct {
	frame
	Text template.HTML
}

// mayRead tells whether a sheet's debrief may be shown: after the release, and only to who can change nothing any
// more.
func mayRead(room *attempt.Room, a *attempt.Attempt) bool {
	return room.Released && (a.Conclusion.Made() || room.Closed)
}

// debrief is kept back until the desk releases it, and then until the sheet's own conclusion.
func (b *Bench) debrief(s *seat, r Request) Answer {
	may, released := false, false
	s.mu.Lock()
	b.Look(func(room *attempt.Room) { may, released = mayRead(room, s.attempt), room.Released })
	blocks := s.after
	s.mu.Unlock()
	switch {
	case !released:
		return b.trouble(s, r, http.StatusForbidden, "Debriefs are not released yet.")
	case !may:
		return b.trouble(s, r, http.StatusForbidden, "Conclude first; then your debrief can be released.")
	case blocks == nil:
		return b.trouble(s, r, http.StatusForbidden, "Your debrief was not ready at the release: ask your instructor "+
			"to release again.")
	}
	if r.JSON {
		text := content.Text(content.Section{Name: "Debrief " + s.sheet.Code, Blocks: blocks})
		return asJSON(http.StatusOK, struct {
			Text string `json:"text"`
		}{text})
	}
	text, err := b.pages.Rendered(blocks)
	if err != nil {
		return b.trouble(s, r, http.StatusInternalServerError, "The debrief cannot be shown; ask for it on paper.")
	}
	return b.pages.answer(http.StatusOK, "debrief", debriefPage{b.pages.frame("Debrief of sheet "+s.sheet.Code,
		&s.sheet), text})
}
