package coach

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"nextrung/internal/recording"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// The names of pages, folders and files hold those of clients, and names from outside grow when something is put before
// or behind them; many file systems take 255 bytes.
const (
	longestName = 100 // bytes of a client's name
	longestPart = 120 // bytes that one part of a path from outside is cut to
)

// kept brings a name to the form in which it is kept: accents joined with their letters, and one plain space between
// words.
func kept(name string) string { return strings.Join(strings.Fields(recording.Composed(name)), " ") }

// match finds a client by a name that may differ in upper and lower case, in how a system stores accents, or in the kind
// of its spaces; "" for none.
func match(names []string, name string) string {
	for _, n := range names {
		if sameName(n, name) {
			return n
		}
	}
	return ""
}

func sameName(a, b string) bool { return strings.EqualFold(kept(a), kept(b)) }

// checkName says why a name cannot be a client's, "" if it can.
func checkName(name string) string {
	hidden := func(r rune) bool { return wording.Hidden(r) || unicode.Is(unicode.Cf, r) }
	switch {
	case name == "":
		return "is empty"
	case strings.ContainsAny(name, `/\:*?"<>|`) || strings.HasPrefix(name, ".") || !utf8.ValidString(name) || strings.ContainsFunc(name, hidden):
		return "cannot be the name of a folder; leave out / \\ : * ? \" < > |, leading dots and characters that are not shown"
	case wording.Reserved(name):
		return "cannot be the name of a folder on Windows; spell it another way, without a dot at the end"
	case len(name) > longestName:
		return "is too long for the name of a folder; leave some of it out"
	case strings.EqualFold(name, refusedFolder):
		return "is the name of the folder for refused files; spell it another way"
	}
	return ""
}

// fileName makes one part of a path from outside a name that every file system takes, "" if nothing is left. One that is
// too long keeps its end, which says what kind of file it is, behind a digest of the whole.
func fileName(part string) string {
	part = strings.Trim(strings.Map(func(r rune) rune {
		if wording.Hidden(r) || strings.ContainsRune(`<>:"/\|?*`, r) {
			return '-'
		}
		return r
	}, recording.Composed(strings.ToValidUTF8(part, "-"))), ". ")
	if wording.Reserved(part) {
		part = "-" + part
	}
	if len(part) > longestPart {
		digest := workout.DigestOf([]byte(part)).Short() + "-"
		part = digest + strings.ToValidUTF8(part[len(part)-longestPart+len(digest):], "")
	}
	return part
}

// safe is a name from outside, with at most three folders, that leads nowhere else.
func safe(name string) string {
	var parts []string
	for part := range strings.FieldsFuncSeq(name, func(r rune) bool { return r == '/' || r == '\\' || r == '!' }) {
		if part = fileName(part); part != "" {
			parts = append(parts, part)
		}
	}
	if len(parts) == 0 {
		return "file"
	}
	return strings.Join(parts[max(0, len(parts)-4):], "/")
}
