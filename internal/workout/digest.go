package workout

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
)

// Digest is the SHA-256 of a file's bytes; it is the file's name in the book.
type Digest [sha256.Size]byte

// DigestOf names bytes.
func DigestOf(b []byte) Digest { return sha256.Sum256(b) }

// String writes 64 hexadecimal digits.
func (d Digest) String() string { return hex.EncodeToString(d[:]) }

// Short writes the first 8 digits, for people.
func (d Digest) Short() string { return hex.EncodeToString(d[:4]) }

// MarshalText writes 64 hexadecimal digits.
func (d Digest) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (d *Digest) UnmarshalText(b []byte) error {
	if len(b) != hex.EncodedLen(len(d)) {
		return fmt.Errorf("digest %q is not 64 hexadecimal digits", b)
	}
	if _, err := hex.Decode(d[:], b); err != nil {
		return fmt.Errorf("digest %q is not 64 hexadecimal digits", b)
	}
	return nil
}
