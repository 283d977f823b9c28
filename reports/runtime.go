package reports

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"strings"
)

//go:generate go run ./bundle

// built holds what `go generate ./reports` wrote; before that only a .gitignore.
//
//go:embed all:runtime
var built embed.FS

// sources are what the runtime is built from; their digest shows a stale one.
//
//go:embed bundle/*.js package-lock.json
var sources embed.FS

// ErrRuntime says that pages with charts cannot be made yet.
var ErrRuntime = errors.New("the chart runtime is not built")

// Stamp is the digest of everything that the chart runtime is built from.
func Stamp() string {
	sum := sha256.New()
	for _, name := range []string{"bundle/entry.js", "bundle/options.js", "bundle/draw.js", "bundle/desk.js", "bundle/metronome.js", "package-lock.json"} {
		b, err := sources.ReadFile(name)
		if err != nil {
			panic(err) // embedded above: the compiler has seen to it
		}
		fmt.Fprintf(sum, "%s %d\n%s", name, len(b), b)
	}
	return "sha256:" + hex.EncodeToString(sum.Sum(nil))
}

// Runtime is the script that draws the charts, with the name under which the trainer's pages load
// it from their own folder. The name changes with the content. The error wraps ErrRuntime when the
// runtime was never built or is older than what it is built from.
func Runtime() (name string, js []byte, err error) {
	if js, err = readRuntime(built, "charts.js"); err != nil {
		return "", nil, err
	}
	sum := sha256.Sum256(js)
	return "charts-" + hex.EncodeToString(sum[:4]) + ".js", js, nil
}

// DeskScript is the script of the pages that are served: it sends forms without loading the page again. Every form
// works without it. Errors as of Runtime.
func DeskScript() ([]byte, error) { return readRuntime(built, ServedScript) }

func readRuntime(from fs.FS, name string) (js []byte, err error) {
	stamp, err := fs.ReadFile(from, "runtime/stamp")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%w; run: go generate ./reports", ErrRuntime)
	}
	if err != nil {
		return nil, err
	}
	if strings.TrimSpace(string(stamp)) != Stamp() {
		return nil, fmt.Errorf("%w from the present sources; run again: go generate ./reports", ErrRuntime)
	}
	js, err = fs.ReadFile(from, "runtime/"+name)
	if err != nil {
		return nil, fmt.Errorf("%w whole: %w; run again: go generate ./reports", ErrRuntime, err)
	}
	return js, nil
}
