// Package cue says what each cue sounds like and places it, to the sample,
// where the plan wants it heard.
//
// For cmd, which makes an Ear over the session's clock, hands it to the engine
// (the Ear takes the cues of the next seconds) and to a sink (the sink pulls
// frames from it). Start with Ear; Sound and Describe tell what a cue is like,
// WriteFiles puts all of them on disk. Files called sound_* are the patterns of tones; files
// called voice_* are words: what is said at a cue, of a state, of an event (voice_cues.go,
// voice_state.go, voice_events.go), when it is said (voice_schedule.go; Situation holds the rules),
// and the recordings (folder words). SetVoice gives the ear a voice. The package opens no device, starts no
// goroutine and never makes the engine wait: Schedule holds a lock for as long
// as one pull is being mixed, well under a millisecond.
package cue
