// Package pulsetest is a sound server of a test's own with nothing but null sinks,
// and a recorder beside them.
//
// For tests of the ways out, in package sink and in cmd: take PulseAudio or
// PipeWire, Start it, point a program at it with Env or Getenv, Record what one of
// its sinks plays, and do to the server what happens to servers. Tests skip unless
// WETSIDE_E2E is 1. Nothing here reaches a loudspeaker or the user's own server.
package pulsetest
