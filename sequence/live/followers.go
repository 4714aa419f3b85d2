package live

// Those who follow the log, each in a goroutine of its own, under one guard.

import (
	"context"
	"fmt"
	"time"

	"example.org/wetside/sequence"
)

// Follower reads the log through its cursor until that ends. An error or a
// panic is told as an event and the follower is started again after a second,
// where its cursor stands.
type Follower func(context.Context, *Cursor) error

// restartAfter is how long a follower that failed rests.
const restartAfter = time.Second

// restartsAfterEnd is how often a follower that keeps failing is started again once
// the session is over.
const restartsAfterEnd = 3

// Follow starts a follower whose first record is number first.
func (s *Session) Follow(name string, first int, f Follower) {
	cursor := s.log.From(first)
	s.followers.Add(1)
	go func() {
		defer s.followers.Done()
		for late := 0; late < restartsAfterEnd; {
			err := guarded(f, context.WithoutCancel(s.ctx), cursor)
			if err == nil {
				return
			}
			s.Do(sequence.Report{Kind: sequence.FollowerFailed, Text: fmt.Sprintf("%s: %v", name, err)})
			time.Sleep(restartAfter)
			select {
			case <-s.ended:
				late++
			default:
			}
		}
	}()
}

// guarded turns a panic into an error.
func guarded(f Follower, ctx context.Context, c *Cursor) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("panic: %v", r)
		}
	}()
	return f(ctx, c)
}
