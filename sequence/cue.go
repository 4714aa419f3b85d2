package sequence

// What is to be heard, and when.

// Cue is something to hear at an instant.
type Cue struct {
	At     Elapsed `json:"at_s"`
	Kind   CueKind `json:"cue"`
	For    Elapsed `json:"for_s,omitzero"`    // agitate: how long; reading: until the move
	Change Elapsed `json:"change_s,omitzero"` // reading: by how much the move comes later than was told
	Step   string  `json:"step"`              // of a move: the step that is left
	Sheet  int     `json:"sheet"`             // 1..n where one sheet is meant, else 0
}

// CueKind says what a cue asks for or tells.
type CueKind string

// The kinds of cue.
const (
	CueReady       CueKind = "ready"        // 20 s before a move or a pour
	CueLoad        CueKind = "load"         // into the first bath, now
	CueTransfer    CueKind = "move"         // touch the next bath, now
	CuePull        CueKind = "take-out"     // this sheet out of the developer, now
	CueShuffle     CueKind = "turn"         // bottom sheet to the top
	CueAgitate     CueKind = "agitate"      // agitate for so long
	CueStand       CueKind = "rest"         // agitation ends
	CueReverse     CueKind = "reverse"      // the drum turns the other way
	CueDrain       CueKind = "drain"        // lift and let drip
	CueTick        CueKind = "tick"         // all is well in a long quiet
	CueOverdue     CueKind = "overdue"      // time is up, holding
	CueWetWarning  CueKind = "wet-warning"  // wet time runs short
	CueWetLimit    CueKind = "wet-limit"    // wet time is used up
	CueLightsOut   CueKind = "lights-out"   // the next step is dark
	CueLightsOffer CueKind = "lights-offer" // the last sheet may see light
	CueReading     CueKind = "reading"      // a temperature was taken and changed the end
	CueDone        CueKind = "done"         // the last sheet out
)

// CueKinds lists every kind of cue.
var CueKinds = []CueKind{CueReady, CueLoad, CueTransfer, CuePull, CueShuffle, CueAgitate, CueStand,
	CueReverse, CueDrain, CueTick, CueOverdue, CueWetWarning, CueWetLimit, CueLightsOut,
	CueLightsOffer, CueReading, CueDone}

// SameAs says whether two cues are one, however long they last.
func (c Cue) SameAs(d Cue) bool {
	return c.At == d.At && c.Kind == d.Kind && c.Step == d.Step && c.Sheet == d.Sheet
}
