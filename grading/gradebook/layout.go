package gradebook

// Headings in their published order: 1EdTech OneRoster CSV binding, versions 1.1
// and 1.2; results of 1.1 and the files of the manifest from memory.
var (
	categoryColumns = map[string][]string{
		"1.1": {"sourcedId", "status", "dateLastModified", "title"},
		"1.2": {"sourcedId", "status", "dateLastModified", "title", "weight"},
	}
	lineItemColumns = map[string][]string{
		"1.1": {"sourcedId", "status", "dateLastModified", "title", "description", "assignDate", "dueDate",
			"classSourcedId", "categorySourcedId", "gradingPeriodSourcedId", "resultValueMin", "resultValueMax"},
		"1.2": {"sourcedId", "status", "dateLastModified", "title", "description", "assignDate", "dueDate",
			"classSourcedId", "categorySourcedId", "academicSessionSourcedId", "resultValueMin", "resultValueMax",
			"schoolSourcedId"},
	}
	resultColumns = map[string][]string{
		"1.1": {"sourcedId", "status", "dateLastModified", "lineItemSourcedId", "studentSourcedId", "scoreStatus",
			"score",
			"scoreDate", "comment"},
		"1.2": {"sourcedId", "status", "dateLastModified", "lineItemSourcedId", "studentSourcedId", "scoreStatus",
			"score",
			"scoreDate", "comment", "textScore", "classSourcedId", "inProgress", "incomplete", "late", "missing"},
	}
	manifestFiles = map[string][]string{
		"1.1": {"academicSessions", "categories", "classes", "classResources", "courses", "courseResources",
			"demographics", "enrollments", "lineItems", "orgs", "resources", "results", "users"},
		"1.2": {"academicSessions", "categories", "classes", "classResources", "courses", "courseResources",
			"demographics", "enrollments", "lineItemLearningObjectiveIds", "lineItems", "lineItemScoreScales", "orgs",
			"resources", "resultLearningObjectiveIds", "results", "resultScoreScales", "roles", "scoreScales",
			"userProfiles", "userResources", "users"},
	}
)

// layout brings lines into the order of the columns. A line may have values for
// columns that this version lacks; those are left out.
type layout struct {
	columns []string
	lines   []map[string]string
}

// table returns headings and lines. A column for which a line has no value is
// left empty.
func (l layout) table() [][]string {
	table := [][]string{l.columns}
	for _, line := range l.lines {
		cells := make([]string, len(l.columns))
		for i, column := range l.columns {
			cells[i] = line[column]
		}
		table = append(table, cells)
	}
	return table
}

// manifest says of every file of the standard whether it is there and that it
// holds changes.
func manifest(version string) [][]string {
	table := [][]string{{"propertyName", "value"}, {"manifest.version", "1.0"}, {"oneroster.version", version}}
	for _, name := range manifestFiles[version] {
		state := "absent"
		switch name {
		case "categories", "lineItems", "results":
			state = "delta"
		}
		table = append(table, []string{"file." + name, state})
	}
	return append(table, []string{"source.systemName", "nospark"}, []string{"source.systemCode", "nospark"})
}
