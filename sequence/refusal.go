package sequence

import "strings"

// Refusal is why a command would change nothing, or a plan cannot be made: a code and what it is about.
// The zero value refuses nothing.
type Refusal struct {
	Code string
	Values
}

// Refused reports whether it is one.
func (r Refusal) Refused() bool { return r.Code != "" }

// AsksToConfirm reports whether the same, confirmed, would be taken.
func (r Refusal) AsksToConfirm() bool { return r.Code == "outside-table" || r.Code == "not-expected" }

// RefusedError is all that stands in the way, where an error is wanted; whoever shows it to a person says
// it in words.
type RefusedError []Refusal

func (e RefusedError) Error() string {
	codes := make([]string, len(e))
	for i, r := range e {
		codes[i] = r.Code
	}
	return "refused: " + strings.Join(codes, ", ")
}

// Refuse is a RefusedError of one reason.
func Refuse(code string, v Values) error { return RefusedError{{code, v}} }

// Add puts one more reason on the list.
func (e *RefusedError) Add(code string, v Values) { *e = append(*e, Refusal{code, v}) }

// OrNil is nil where nothing was refused.
func (e RefusedError) OrNil() error {
	if len(e) == 0 {
		return nil
	}
	return e
}

// Reason is why something is as it is: a code and what it is about. The zero value is none.
type Reason struct {
	Code string `json:"code"`
	Values
}

// Given reports whether it is one.
func (r Reason) Given() bool { return r.Code != "" }
