package wording

import (
	"strings"
	"unicode"
)

// Hidden says that a character must reach neither a terminal nor a name: it is a control character (of C0 or C1, or
// delete), or one that is not shown but changes what is shown around it, such as a reversal of the writing direction.
func Hidden(r rune) bool {
	return unicode.IsControl(r) || r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 || r == 0x2028 || r == 0x2029 || r == 0xFEFF
}

// Shown is a text for a terminal: what a terminal would obey stands there as a question mark; line breaks and tabs stay.
func Shown(text string) string {
	return strings.Map(func(r rune) rune {
		if Hidden(r) && r != '\n' && r != '\t' {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
}

// Reserved says that Windows takes a name for a device, whatever stands behind a dot (Microsoft, "Naming Files, Paths,
// and Namespaces"), or drops its end.
func Reserved(name string) bool {
	stem, _, _ := strings.Cut(strings.ToUpper(name), ".")
	stem = strings.TrimSpace(stem)
	switch stem {
	case "CON", "PRN", "AUX", "NUL":
		return true
	}
	number, device := strings.CutPrefix(stem, "COM")
	if !device {
		number, device = strings.CutPrefix(stem, "LPT")
	}
	return device && len([]rune(number)) == 1 && strings.Contains("123456789¹²³", number) || strings.HasSuffix(name, ".") || strings.HasSuffix(name, " ")
}
