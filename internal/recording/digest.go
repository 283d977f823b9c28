package recording

import (
	"crypto/sha256"
	"encoding/hex"
)

// deviceDigest stands for a device's serial number, which is not kept. It distinguishes devices; it
// is no secret, since serial numbers are few enough to be tried.
func deviceDigest(serial string) string {
	sum := sha256.Sum256([]byte("device serial " + serial))
	return hex.EncodeToString(sum[:8])
}
