package sequence

// How wetside writes JSON: durations as seconds, exactly; absent values null
// or left out; names compared exactly. The journal and --json share it; for --json an
// empty text, a moment that is not known and what has not happened are null too.

import (
	"errors"
	"math"
	"reflect"
	"strconv"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

var jsonOptions = json.JoinOptions(
	json.WithMarshalers(json.MarshalToFunc(writeSeconds)),
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

// reportOptions are those of what is written for scripts.
var reportOptions = json.JoinOptions(jsonOptions, json.WithMarshalers(json.JoinMarshalers(
	json.MarshalToFunc(func(enc *jsontext.Encoder, d time.Duration) error {
		if d == Never {
			return enc.WriteToken(jsontext.Null)
		}
		return writeSeconds(enc, d)
	}),
	json.MarshalToFunc(func(enc *jsontext.Encoder, t time.Time) error {
		if t.IsZero() {
			return enc.WriteToken(jsontext.Null)
		}
		return enc.WriteToken(jsontext.String(t.Format(time.RFC3339)))
	}),
	json.MarshalToFunc(func(enc *jsontext.Encoder, v any) error {
		if text := reflect.Indirect(reflect.ValueOf(v)); text.Kind() == reflect.String && text.Len() == 0 {
			return enc.WriteToken(jsontext.Null)
		}
		return errors.ErrUnsupported // as anything else
	}),
)))

// MarshalReport writes v on one line for a script: what is absent is null.
func MarshalReport(v any) ([]byte, error) { return json.Marshal(v, reportOptions) }

// writeSeconds writes a duration as seconds.
func writeSeconds(enc *jsontext.Encoder, d time.Duration) error {
	return enc.WriteValue(jsontext.Value(strconv.FormatFloat(Seconds(d), 'f', -1, 64)))
}

// Unmarshal reads wetside's JSON into v; members it does not know are passed
// over, so that a newer journal can be read as far as it is understood.
func Unmarshal(data []byte, v any) error { return json.Unmarshal(data, v, jsonOptions) }
