package sequence

import (
	"reflect"

	"example.org/wetside/chem"
)

// Level is how serious a caution is.
type Level string

// The levels of a caution, gravest first.
const (
	Danger Level = "danger"
	Care   Level = "care"
	Note   Level = "note"
)

// Caution is something to know before film is wet: a code and what it is about. It never
// stops a run.
type Caution struct {
	Level Level  `json:"level"`
	Code  string `json:"code"`
	Text  string `json:"text"` // in words, in Celsius; empty until someone says it, kept in journals
	Values
}

// Values are what a sentence is about. Which of them belong to it follows from its code;
// the others are zero.
type Values struct {
	Step        string           `json:"step,omitzero"`
	Bath        string           `json:"bath,omitzero"`
	Bottle      string           `json:"bottle,omitzero"`
	Part        string           `json:"part,omitzero"`
	Words       string           `json:"words,omitzero"` // the recipe's own
	Names       []string         `json:"names,omitzero"` // that can be chosen
	Vessel      Vessel           `json:"vessel,omitzero"`
	FoundIn     Vessel           `json:"found_in,omitzero"` // the vessel that a time was found for
	Sheet       int              `json:"sheet,omitzero"`
	Sheets      int              `json:"sheets,omitzero"`
	Room        int              `json:"room,omitzero"` // sheets that a fill serves
	Time        Elapsed          `json:"time_s,omitzero"`
	Of          Elapsed          `json:"of_s,omitzero"`     // what Time is compared with: a limit, a recipe's time, a life
	Margin      Elapsed          `json:"margin_s,omitzero"` // that is left; below zero what is too much
	Ago         Elapsed          `json:"ago_s,omitzero"`
	Each        Elapsed          `json:"each_s,omitzero"` // for one turn of a stack
	Temperature chem.Celsius     `json:"temperature_c,omitzero"`
	Expected    chem.Celsius     `json:"expected_c,omitzero"`
	Low         chem.Celsius     `json:"low_c,omitzero"`
	High        chem.Celsius     `json:"high_c,omitzero"`
	Change      chem.Celsius     `json:"change_c,omitzero"` // a difference of temperatures
	Volume      chem.Millilitres `json:"volume_ml,omitzero"`
	Need        chem.Millilitres `json:"need_ml,omitzero"`
	Done        float64          `json:"done,omitzero"`   // sheets of 4x5in that a bath has done
	Serves      float64          `json:"serves,omitzero"` // sheets of 4x5in that it can do in all
	Count       float64          `json:"count,omitzero"`  // sheets of 4x5in that are to come
	Factor      float64          `json:"factor,omitzero"`
	Share       float64          `json:"share,omitzero"`
	Differs     []Differing      `json:"differs,omitzero"`
	Shares      []SheetShare     `json:"shares,omitzero"`
}

// Differing is one thing in which a plan differs from the test that its growth is from.
type Differing struct {
	What  string     `json:"what"` // film, developer, vessel or agitation
	Here  string     `json:"here,omitzero"`
	There string     `json:"there,omitzero"`
	Moved *Agitation `json:"moved_here,omitzero"` // of an agitation
	Then  *Agitation `json:"moved_there,omitzero"`
}

// SheetShare is by how much a sheet's development is off its own time.
type SheetShare struct {
	Sheet int     `json:"sheet"`
	Share float64 `json:"share"`
}

// Empty reports whether none is given.
func (v Values) Empty() bool { return reflect.ValueOf(v).IsZero() }
