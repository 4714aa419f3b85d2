package sequence

// Refusal is why a command would change nothing: a code and what it is about. The zero
// value refuses nothing.
type Refusal struct {
	Code string
	Values
}

// Refused reports whether it is one.
func (r Refusal) Refused() bool { return r.Code != "" }

// AsksToConfirm reports whether the same, confirmed, would be taken.
func (r Refusal) AsksToConfirm() bool { return r.Code == "outside-table" || r.Code == "not-expected" }

// RefusedError is a Refusal where an error is wanted; whoever shows it to a person says it
// in words.
type RefusedError struct{ Refusal }

func (e RefusedError) Error() string { return "refused: " + e.Code }

// Reason is why something is as it is: a code and what it is about. The zero value is none.
type Reason struct {
	Code string `json:"code"`
	Values
}

// Given reports whether it is one.
func (r Reason) Given() bool { return r.Code != "" }
