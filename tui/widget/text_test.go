package widget

import "testing"

// What is cut keeps what tells it from others, where that has room, and is as wide as there is room.
func TestCutInside(t *testing.T) {
	const title = "Tern 125, eight sheets, tested 2026-11-23" // 41 columns, 19 of them the last part
	for width, want := range map[int]string{
		41: title,
		40: "Tern 125, eight shee…, tested 2026-11-23",
		38: "Tern 125, eight sh…, tested 2026-11-23",
		37: "Tern 125, eight sheets, tested 2026-…",
		0:  "",
	} {
		if got := CutInside(title, width); got != want || Width(got) > width {
			t.Errorf("%d: %q; expected %q", width, got, want)
		}
	}
	if got := CutInside("Curlew 400 in a tank", 10); got != "Curlew 40…" {
		t.Errorf("without a comma: %q", got)
	}
}
