package keyboard

import "time"

// Next waits for the next event. It errs with os.ErrDeadlineExceeded at a time that is not
// zero, and with what the terminal says where it cannot be read: that is no key, and may pass.
func (r *Reader) Next(until time.Time) (Event, error) {
	for len(r.due) == 0 {
		if err := r.step(until); err != nil {
			return Event{}, err
		}
	}
	e := r.due[0]
	r.due = r.due[1:]
	return e, nil
}

// take puts events into the row; silence begins anew with each, not with an answer.
func (r *Reader) take(list []Event) {
	if len(list) > 0 {
		r.due = append(r.due, list...)
		r.quietAt = time.Now().Add(Silence)
	}
}
