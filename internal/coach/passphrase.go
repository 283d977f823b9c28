package coach

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"fmt"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// settingPassphrase is the name of the setting that holds the digest of the passphrase.
const settingPassphrase = "passphrase"

// LeastPassphrase is the fewest characters of a passphrase that stands alone (NIST SP 800-63B-4: 15, from
// memory), and mostPassphrase the most.
const LeastPassphrase, mostPassphrase = 15, 1000

// The work of a digest: the second recommendation of RFC 9106, section 4 (3 passes over 64 MiB on 4 lanes, a salt of
// 128 bits, a digest of 256).
const (
	passes   = 3
	memory   = 64 << 10 // KiB
	lanes    = 4
	saltSize = 16
	keySize  = 32
)

// SetPassphrase sets the passphrase that opens the desk from another computer. Only its digest is kept.
func (c *Coach) SetPassphrase(ctx context.Context, passphrase string) error {
	if n := utf8.RuneCountInString(passphrase); n < LeastPassphrase || n > mostPassphrase {
		return fault.In("passphrase", "", "must have %d to %d characters; a sentence of your own is easy to remember", LeastPassphrase, mostPassphrase)
	}
	salt := make([]byte, saltSize)
	_, _ = rand.Read(salt) // never fails
	return c.book.Set(ctx, settingPassphrase, hex.EncodeToString(salt)+" "+hex.EncodeToString(passphraseKey(passphrase, salt)))
}

// HasPassphrase says whether one was set.
func (c *Coach) HasPassphrase(ctx context.Context) (bool, error) {
	kept, err := c.book.Setting(ctx, settingPassphrase)
	return kept != "", err
}

// IsPassphrase says whether this is the passphrase. Without one, nothing is.
func (c *Coach) IsPassphrase(ctx context.Context, passphrase string) (bool, error) {
	kept, err := c.book.Setting(ctx, settingPassphrase)
	if err != nil || kept == "" || len(passphrase) > 4*mostPassphrase {
		return false, err
	}
	var salt, key []byte
	if _, err := fmt.Sscanf(kept, "%x %x", &salt, &key); err != nil || len(salt) != saltSize || len(key) != keySize {
		return false, fault.New(fault.Conflict, "the passphrase in the book is damaged; set it again")
	}
	return subtle.ConstantTimeCompare(passphraseKey(passphrase, salt), key) == 1, nil
}

// PassphraseMark changes whenever the passphrase is set, and says nothing about it.
func (c *Coach) PassphraseMark(ctx context.Context) (workout.Digest, error) {
	kept, err := c.book.Setting(ctx, settingPassphrase)
	return workout.DigestOf([]byte(kept)), err
}

func passphraseKey(passphrase string, salt []byte) []byte {
	return argon2.IDKey([]byte(passphrase), salt, passes, memory, lanes, keySize)
}
