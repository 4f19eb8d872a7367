package roster

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// idColumns are the columns of users.csv that may serve as a student's id.
// E-mail addresses may not: they would be printed on every sheet.
var idColumns = []string{"sourcedId", "identifier", "username"}

// readOneRoster reads a package. All headings are
// those of the OneRoster CSV binding, 1EdTech, versions 1.1 and 1.2; they are
// case-sensitive and found by name, in whatever order.
func readOneRoster(p *bundle, opts Options) (Roster, error) {
	b := newBuilder()
	idColumn := opts.IDColumn
	if idColumn == "" {
		idColumn = idColumns[0]
	}
	if !slices.Contains(idColumns, idColumn) {
		b.fail(p.name, 0, "column %q of users.csv cannot be the id; choose one of %s", opts.IDColumn,
			quoteAll(idColumns))
		return b.done(p.name, "")
	}
	version := p.readManifest(b)
	if len(b.errs) > 0 {
		return b.done(p.name, "")
	}
	needed := []string{"classes.csv", "enrollments.csv", "users.csv"}
	if version == "1.2" {
		needed = append(needed, "roles.csv")
	}
	if !p.checkFiles(b, needed) {
		return b.done(p.name, "")
	}
	classes := p.readFile(b, "classes.csv", []string{"sourcedId", "title"},
		[]string{"status", "classCode", "schoolSourcedId", "termSourcedIds"})
	enrollments := p.readFile(b, "enrollments.csv", []string{"classSourcedId", "userSourcedId", "role"},
		[]string{"status", "endDate"})
	users := p.readUsers(b, idColumn, version)
	roles := p.readRoles(b, version, users)
	if len(b.errs) > 0 {
		return b.done(p.name, "")
	}
	choices := opts.Classes
	if len(choices) == 0 {
		choices = []string{opts.Class}
	}
	var chosen []record
	for _, choice := range choices {
		if class, ok := b.chooseClass(p.file("classes.csv"), classes, choice); ok {
			chosen = append(chosen, class)
		}
	}
	if len(b.errs) > 0 {
		return b.done(p.name, "")
	}
	b.enroll(enrolling{p: p, roles: roles, idColumn: idColumn, date: opts.Date}, chosen, enrollments, users)
	class := chosen[0]
	b.roster.Class = Class{
		SourcedID: class.cells["sourcedId"], Title: class.cells["title"], Code: class.cells["classCode"],
		SchoolSourcedID: class.cells["schoolSourcedId"],
		TermSourcedIDs: strings.FieldsFunc(class.cells["termSourcedIds"], func(r rune) bool {
			return r == ',' ||
				r == ' '
		}),
	}
	source := fmt.Sprintf("%s (OneRoster %s, class %q)", p.name, version, b.roster.Class.Title)
	if n := len(chosen); n > 1 {
		source = fmt.Sprintf("%s (OneRoster %s, %d classes)", p.name, version, n)
	}
	return b.done(p.file("enrollments.csv"), source)
}

// readManifest returns the version, "1.1" or "1.2", and refuses packages that
// hold changes only: a class list made of those would lack students.
func (p *bundle) readManifest(b *builder) string {
	if !p.checkFiles(b, []string{"manifest.csv"}) {
		return ""
	}
	file := p.file("manifest.csv")
	version := ""
	for _, r := range p.readFile(b, "manifest.csv", []string{"propertyName", "value"}, nil) {
		name, value := r.cells["propertyName"], r.cells["value"]
		switch name {
		// The version decides where the roles are.
		case "oneroster.version":
			version = value
		case "file.users", "file.classes", "file.enrollments":
			if value == "delta" {
				b.fail(file, r.line, "%s holds changes only (%q); ask for a bulk export",
					strings.TrimPrefix(name, "file."), value)
			}
		}
	}
	switch version {
	case "1.1", "1.2":
		return version
	case "":
		b.fail(file, 0, "no oneroster.version; want 1.1 or 1.2")
	default:
		b.fail(file, 0, "oneroster.version is %q; 1.1 and 1.2 can be read", version)
	}
	return ""
}

// readUsers keeps what a class list needs. The headings of passwords,
// addresses and telephone numbers are not among those asked for.
func (p *bundle) readUsers(b *builder, idColumn, version string) []record {
	required := []string{"sourcedId", "givenName", "familyName"}
	if idColumn != "sourcedId" {
		required = append(required, idColumn)
	}
	optional := []string{"status", "enabledUser"}
	if version == "1.1" {
		required = append(required, "role")
	} else {
		optional = append(optional, "preferredGivenName", "preferredFamilyName")
	}
	return p.readFile(b, "users.csv", required, optional)
}

// readRoles returns the roles of each user: in 1.1 a column of users.csv, in
// 1.2 a file of its own in which a user can have several.
func (p *bundle) readRoles(b *builder, version string, users []record) map[string][]string {
	roles := map[string][]string{}
	if version == "1.1" {
		for _, u := range users {
			id := u.cells["sourcedId"]
			roles[id] = append(roles[id], u.cells["role"])
		}
		return roles
	}
	for _, r := range p.readFile(b, "roles.csv", []string{"userSourcedId", "role"}, []string{"status"}) {
		if isActive(r) {
			id := r.cells["userSourcedId"]
			roles[id] = append(roles[id], r.cells["role"])
		}
	}
	return roles
}

// isActive tells lines that count from lines "tobedeleted" (or "inactive", which
// version 1.0 had). A bulk file leaves the status empty.
func isActive(r record) bool {
	return r.cells["status"] == "" || r.cells["status"] == "active"
}

// chooseClass finds the class by sourcedId, else by code, else by title, the
// latter two without regard to case. An empty choice means the only class.
// A choice that fits several is refused with their list: the wrong class would
// be noticed only when the sheets are handed out.
func (b *builder) chooseClass(file string, all []record, choice string) (record, bool) {
	var classes []record
	for _, c := range all {
		if isActive(c) {
			classes = append(classes, c)
		}
	}
	fits := []func(c record) bool{
		func(c record) bool { return c.cells["sourcedId"] == choice },
		func(c record) bool { return strings.EqualFold(c.cells["classCode"], choice) },
		func(c record) bool { return strings.EqualFold(c.cells["title"], choice) },
	}
	if choice == "" {
		fits = []func(c record) bool{func(record) bool { return true }}
	}
	for _, fit := range fits { // the first way that finds anything decides
		var found []record
		for _, c := range classes {
			if fit(c) {
				found = append(found, c)
			}
		}
		switch {
		case len(found) == 1:
			return found[0], true
		case len(found) > 1:
			b.fail(file, 0, "%s; choose one by its sourcedId: %s", ambiguity(choice, len(found)), describe(found))
			return record{}, false
		}
	}
	if len(classes) == 0 {
		b.fail(file, 0, "contains no active class; ask for an export with the classes of this term")
	} else {
		b.fail(file, 0, "no class has the sourcedId, code or title %q; there are %s", choice, describe(classes))
	}
	return record{}, false
}

// ambiguity begins the message about a choice that fits n classes.
func ambiguity(choice string, n int) string {
	if choice == "" {
		return fmt.Sprintf("the package has %d classes", n)
	}
	return fmt.Sprintf("%d classes are called %q", n, choice)
}

// describe lists classes for a message. A district has hundreds: the first few
// show what the names look like.
func describe(classes []record) string {
	const most = 12
	var list []string
	for i, c := range classes {
		if i == most {
			list = append(list, fmt.Sprintf("and %d more", len(classes)-most))
			break
		}
		list = append(list, fmt.Sprintf("%q (code %q, title %q)",
			c.cells["sourcedId"], c.cells["classCode"], c.cells["title"]))
	}
	return strings.Join(list, ", ")
}

// sectionOf is what a class is called on sheets and lists.
func sectionOf(class record) string {
	if code := class.cells["classCode"]; code != "" {
		return code
	}
	return class.cells["title"]
}

// enrolling is what adding the students of several classes needs to know.
type enrolling struct {
	p        *bundle
	users    map[string]record   // by sourcedId
	roles    map[string][]string // by user
	idColumn string
	date     string            // of the lab; "" ends no enrollment by its date
	section  map[string]string // of who has a sheet already, by user
}

// enroll adds the students of the classes, class after class, each in the order
// of enrollments.csv. Who is in two of the classes gets one sheet, in the first.
func (b *builder) enroll(in enrolling, classes, enrollments, users []record) {
	in.users, in.section = map[string]record{}, map[string]string{}
	for _, u := range users {
		id := u.cells["sourcedId"]
		if other, twice := in.users[id]; twice {
			b.fail(in.p.file("users.csv"), u.line, "sourcedId %q is already used in line %d", id, other.line)
			continue
		}
		in.users[id] = u
	}
	for _, class := range classes {
		b.enrollClass(in, class, enrollments)
	}
}

// enrollClass adds the students of one class.
func (b *builder) enrollClass(in enrolling, class record, enrollments []record) {
	file, section := in.p.file("enrollments.csv"), sectionOf(class)
	ended := map[string]record{} // by user; somebody may have come back
	for _, e := range enrollments {
		id := e.cells["userSourcedId"]
		if e.cells["classSourcedId"] != class.cells["sourcedId"] || e.cells["role"] != "student" || !isActive(e) {
			continue
		}
		if end := e.cells["endDate"]; in.date != "" && end != "" && end < in.date {
			ended[id] = e
			continue
		}
		other, already := in.section[id]
		switch {
		case !already:
			in.section[id] = section
			b.addUser(in, e, section)
		case other != section: // several enrollments in one class differ in their dates only
			b.remark(file, e.line, "user %q is in class %q too; the sheet is of that class", id, other)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(ended)) {
		if _, back := in.section[id]; !back {
			b.remark(file, ended[id].line, "the enrollment of user %q ended on %s; left out", id,
				ended[id].cells["endDate"])
		}
	}
}

// addUser adds the student of an enrollment, if there is one who may have a
// sheet.
func (b *builder) addUser(in enrolling, e record, section string) {
	id, file := e.cells["userSourcedId"], in.p.file("enrollments.csv")
	user, known := in.users[id]
	switch {
	case !known:
		b.fail(file, e.line, "user %q is not in users.csv; ask for a complete export", id)
		return
	case !isActive(user):
		b.remark(file, e.line, "user %q is marked %q in users.csv and left out", id, user.cells["status"])
		return
	case strings.EqualFold(user.cells["enabledUser"], "false"):
		b.remark(file, e.line, "user %q is not enabled in users.csv and left out", id)
		return
	}
	// The enrollment is about this class, the roles are about the school: a
	// teacher can be a student here.
	if !slices.Contains(in.roles[id], "student") {
		b.remark(file, e.line, "user %q is enrolled as a student but nowhere has that role; kept", id)
	}
	b.add(in.p.file("users.csv"), user.line, Student{
		ID:        user.cells[in.idColumn],
		Name:      givenName(user) + " " + familyName(user),
		Family:    familyName(user),
		Section:   section,
		SourcedID: id,
	})
}

// The name by which a student wants to be called goes before the registered
// one (version 1.2).
func givenName(user record) string {
	if name := strings.TrimSpace(user.cells["preferredGivenName"]); name != "" {
		return name
	}
	return user.cells["givenName"]
}

func familyName(user record) string {
	if name := strings.TrimSpace(user.cells["preferredFamilyName"]); name != "" {
		return name
	}
	return user.cells["familyName"]
}
