package recording

import (
	"testing"

	"pgregory.net/rapid"
)

// The published check value of this CRC-16 (poly 0x8005, reflected, start 0: "CRC-16/ARC" in the
// usual catalogues) over the nine digits is 0xBB3D (from memory).
func TestChecksumCheckValue(t *testing.T) {
	if got := checksum([]byte("123456789")); got != 0xBB3D {
		t.Errorf("%#x", got)
	}
}

// Eight bytes a step give what one bit a step gives.
func TestChecksumAgreesWithOneBitAStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SliceOfN(rapid.Byte(), 0, 70).Draw(t, "bytes")
		var crc uint16
		for _, c := range b {
			crc ^= uint16(c)
			for range 8 {
				crc = crc>>1 ^ crc&1*0xA001
			}
		}
		if got := checksum(b); got != crc {
			t.Fatalf("%#x, want %#x", got, crc)
		}
	})
}
