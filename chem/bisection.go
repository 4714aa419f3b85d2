package chem

// Bisect halves the bracket of low and high so many times, about the place up to which below holds. Below may look
// at its argument alone; low may be the greater one.
func Bisect[T ~float64](low, high T, times int, below func(T) bool) (T, T) {
	for range times {
		if middle := (low + high) / 2; below(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low, high
}
