package coach

import (
	"bytes"
	"context"
	"crypto/aes"
	"crypto/cipher"
	"crypto/ed25519"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"nextrung/internal/fault"
	"nextrung/internal/logbook"
)

// The trainer may sign the seal of the book with a key of their own (Ed25519, RFC 8032). The key lies in a file that a passphrase
// protects; there is no other guard. Somebody who writes the log anew cannot sign it without the passphrase.

// KeyName and signedName are the files of the key, unless the trainer keeps it elsewhere, and of the signatures in the book's folder.
const (
	KeyName    = "trainer.key"
	signedName = "book.signed"
)

// keyFile is a key on disk: its seed is encrypted with AES-256 in GCM mode (NIST SP 800-38D) under the passphrase's digest.
type keyFile struct {
	Public []byte `json:"public"`
	Salt   []byte `json:"salt"`
	Seed   []byte `json:"seed"` // nonce and ciphertext
}

// Sign signs the seal of the book as it is with the key in a file, and makes the key if there is none. It returns the seal and the
// first digits of the public key, by which the trainer knows it again.
func (c *Coach) Sign(ctx context.Context, file, passphrase string) (h logbook.Head, key string, err error) {
	private, err := openKey(file, passphrase)
	if errors.Is(err, fs.ErrNotExist) {
		private, err = makeKey(file, passphrase)
	}
	if err != nil {
		return h, "", err
	}
	if h, err = c.book.Head(ctx); err != nil {
		return h, "", err
	}
	public := private.Public().(ed25519.PublicKey)
	f, err := os.OpenFile(filepath.Join(c.Dir, signedName), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return h, "", fmt.Errorf("keep the signature: %w", err)
	}
	_, err = fmt.Fprintf(f, "%s %x %x\n", signedText(h), public, ed25519.Sign(private, []byte(signedText(h))))
	return h, keyName(public), errors.Join(err, f.Sync(), f.Close())
}

// signedText is what is signed: the whole seal.
func signedText(h logbook.Head) string { return fmt.Sprintf("%d-%s", h.Entry, h.Digest) }

func keyName(public ed25519.PublicKey) string { return hex.EncodeToString(public)[:16] }

func makeKey(file, passphrase string) (ed25519.PrivateKey, error) {
	if n := utf8.RuneCountInString(passphrase); n < LeastPassphrase || n > mostPassphrase {
		return nil, fault.In("passphrase", "", "must have %d to %d characters; a sentence of your own is easy to remember", LeastPassphrase, mostPassphrase)
	}
	public, private, err := ed25519.GenerateKey(nil)
	if err != nil {
		return nil, err
	}
	salt := make([]byte, saltSize)
	_, _ = rand.Read(salt) // never fails
	lock, err := lockOf(passphrase, salt)
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(keyFile{public, salt, lock.Seal(nil, nil, private.Seed(), public)})
	if err != nil {
		return nil, err
	}
	return private, writeFile(file, text)
}

func openKey(file, passphrase string) (ed25519.PrivateKey, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var k keyFile
	if err := json.Unmarshal(text, &k); err != nil || len(k.Salt) != saltSize {
		return nil, fault.New(fault.Wrong, "%s is not a key of this program", file)
	}
	lock, err := lockOf(passphrase, k.Salt)
	if err != nil {
		return nil, err
	}
	seed, err := lock.Open(nil, nil, k.Seed, k.Public)
	if err != nil || len(seed) != ed25519.SeedSize {
		return nil, fault.In("passphrase", "", "does not open the key in %s", file)
	}
	private := ed25519.NewKeyFromSeed(seed)
	if !bytes.Equal(private.Public().(ed25519.PublicKey), k.Public) {
		return nil, fault.New(fault.Wrong, "the key in %s is damaged", file)
	}
	return private, nil
}

func lockOf(passphrase string, salt []byte) (cipher.AEAD, error) {
	block, err := aes.NewCipher(passphraseKey(passphrase, salt))
	if err != nil {
		return nil, err
	}
	return cipher.NewGCMWithRandomNonce(block)
}

// signed are the seals in the file of signatures, each with the key that signed it, and a sentence for each line that is no signature.
func (c *Coach) signed() (heads []logbook.Head, faults []string, err error) {
	text, err := os.ReadFile(filepath.Join(c.Dir, signedName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, nil
	}
	n := 0
	for line := range strings.Lines(string(text)) {
		n++
		var seal string
		var public, signature []byte
		_, wrong := fmt.Sscanf(line, "%s %x %x", &seal, &public, &signature)
		h, unread := logbook.ParseHead(seal)
		if wrong != nil || unread != nil || len(public) != ed25519.PublicKeySize || !ed25519.Verify(public, []byte(seal), signature) {
			faults = append(faults, fmt.Sprintf("line %d of %s is not a signature: it was damaged or changed; compare it with a copy", n, signedName))
			continue
		}
		h.Where = "signed with the key " + keyName(public)
		heads = append(heads, h)
	}
	return heads, faults, err
}
