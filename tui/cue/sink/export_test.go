package sink

// What tests with a server of their own need: the ways out, looked for in an
// environment that is not the program's, so that tests can run side by side.

// OpenPulse is the pulse sink.
func OpenPulse(source Source, getenv func(string) string) (Sink, error) {
	return openPulse(source, getenv)
}

// OpenAuto is auto where pulse is the only way out.
func OpenAuto(source Source, getenv func(string) string) Sink {
	return openAuto([]output{{"pulse", func(s Source) (Sink, error) { return openPulse(s, getenv) }}}, source)
}
