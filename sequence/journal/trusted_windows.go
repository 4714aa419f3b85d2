package journal

// On Windows the temporary folder is each user's own.

func trusted(string) error { return nil }
