package sequence

// How wetside writes JSON: durations as seconds, exactly; absent values null
// or left out; names compared exactly. The journal and --json share it.

import (
	"errors"
	"math"
	"strconv"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

var jsonOptions = json.JoinOptions(
	json.WithMarshalers(json.MarshalToFunc(func(enc *jsontext.Encoder, d time.Duration) error {
		return enc.WriteValue(jsontext.Value(strconv.FormatFloat(Seconds(d), 'f', -1, 64)))
	})),
	json.WithUnmarshalers(json.UnmarshalFromFunc(func(dec *jsontext.Decoder, d *time.Duration) error {
		var s float64
		if err := json.UnmarshalDecode(dec, &s); err != nil {
			return err
		}
		ns := math.Round(s * 1e9)
		if !(math.Abs(ns) < 1<<62) {
			return errors.New("a time in seconds is out of range")
		}
		*d = time.Duration(ns)
		return nil
	})),
	jsontext.EscapeForHTML(false),
	json.Deterministic(true),
)

// Marshal writes v on one line as wetside's JSON.
func Marshal(v any) ([]byte, error) { return json.Marshal(v, jsonOptions) }

// Unmarshal reads wetside's JSON into v; members it does not know are passed
// over, so that a newer journal can be read as far as it is understood.
func Unmarshal(data []byte, v any) error { return json.Unmarshal(data, v, jsonOptions) }
