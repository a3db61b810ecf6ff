package form

import "testing"

// The digits by another tool: the last 12 of the first 16 hexadecimal digits of
// sha256sum, read as a number, of "1\na" and of "1\na1\nb".
func TestDigest(t *testing.T) {
	if got, want := Digest([]byte("a")), "227819998651"; got != want {
		t.Errorf("a: %s, want %s", got, want)
	}
	if got, want := Digest([]byte("a"), []byte("b")), "535295832301"; got != want {
		t.Errorf("a, b: %s, want %s", got, want)
	}
	if Digest([]byte("a"), []byte("b")) == Digest([]byte("a1\nb")) {
		t.Error("two texts have the digest of one that looks like them")
	}
}
