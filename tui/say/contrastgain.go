package say

// What long exposures do to contrast.

import "fmt"

// ContrastGain says by how much a long exposure raises contrast, and that development makes up for it.
func ContrastGain(gain float64) string {
	return fmt.Sprintf("less by its long exposure, which gains %.0f%% of contrast", 100*(gain-1))
}
