package sequence

// Level is how serious a caution is.
type Level string

// The levels of a caution, gravest first.
const (
	Danger Level = "danger"
	Care   Level = "care"
	Note   Level = "note"
)

// Caution is something to know before film is wet. It never stops a run.
type Caution struct {
	Level Level  `json:"level"`
	Code  string `json:"code"`
	Text  string `json:"text"`
}
