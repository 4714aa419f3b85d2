// Package cue says what each cue sounds like and places it, to the sample,
// where the plan wants it heard.
//
// For cmd, which makes an Ear over the session's clock, hands it to the engine
// (the Ear takes the cues of the next seconds) and to a sink (the sink pulls
// frames from it). Start with Ear; Sound and Describe tell what a cue is like,
// WriteFiles puts all of them on disk. SetVoice gives the ear a voice: Situation
// holds the rules of what is said when, StatePhrase and EventPhrase what an answer says;
// the words are recordings (folder words). The package opens no device, starts no
// goroutine and never makes the engine wait: Schedule holds a lock for as long
// as one pull is being mixed, well under a millisecond.
package cue
