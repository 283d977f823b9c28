// Package reading reads sentences in every way that it must not, and in some that it may. Lines that must
// be found end with "want" in a comment.
package reading

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"text/template"
)

// kind is a code.
type kind string

type note struct {
	kind kind
	code string
	gist string
}

const farewell = "the ferry leaves at nine"

var pattern = regexp.MustCompile("^ferry")

var page = template.Must(template.New("page").Parse("the ferry {{.}}"))

func say(n int) string { return fmt.Sprintf("the ferry carries %d crates", n) }

func passed(s string) bool {
	return strings.HasPrefix(s, "the") // want
}

func all() []string { return []string{say(1), "no crate is left"} }

func read(n note, err error) (out []string) {
	x := say(2)
	y := strings.ToUpper(x)
	if strings.Contains(y, "FERRY") { // want
		out = append(out, y)
	}
	switch x { // want
	case "noon":
	}
	n.gist = "full speed ahead"
	if n.gist == n.code { // want
		out = append(out, n.gist)
	}
	for _, z := range all() {
		if z == "noon" { // want
			out = append(out, z)
		}
	}
	if slices.Contains(all(), n.code) { // want
		out = append(out, n.code)
	}
	seen := map[string]bool{}
	if seen[x] { // want
		out = append(out, x)
	}
	if pattern.MatchString(x) { // want
		out = append(out, x)
	}
	var b strings.Builder
	if err := page.Execute(&b, n); err == nil && b.String() == n.code { // want
		out = append(out, n.code)
	}
	var c strings.Builder
	fmt.Fprintf(&c, "%d crates on the quay", 3)
	if letter := c.String(); letter[0] == 'x' || strings.HasSuffix(letter, "y") { // want
		out = append(out, letter)
	}
	if passed(x) {
		out = append(out, x[:3]) // want
	}
	if err.Error() == n.code { // want
		out = append(out, farewell)
	}
	head, _, ok := strings.Cut(farewell, " ") // want
	if ok {
		out = append(out, head)
	}
	if strings.HasPrefix(string(n.kind), "cargo-") { // want
		out = append(out, x)
	}
	f := func(s string) bool { return s == n.code } // want
	if f(errors.New("the quay is full").Error()) {
		out = append(out, n.code)
	}
	return out
}

// allowed reads codes and names, and asks whether there is anything to say.
func allowed(n note, args []string) (out []string) {
	if x := say(3); x != "" && strings.TrimSpace(x) != "" {
		out = append(out, x)
	}
	if n.kind == "cargo at the quay" || n.code == "noon" || strings.HasPrefix(n.code, "no") || slices.Contains(args, n.code) {
		out = append(out, say(4))
	}
	return out
}
