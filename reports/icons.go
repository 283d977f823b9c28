package reports

import (
	"html/template"
	"nextrung/internal/record"
)

// Icons are drawn with one stroke in the colour of the text around them; the word always stands
// beside, so that they are hidden from screen readers.
func icon(paths string) template.HTML {
	return template.HTML(`<svg class="icon" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" focusable="false">` + paths + `</svg>`)
}

var icons = map[string]template.HTML{
	"advance":        icon(`<path d="M3 20h6v-6h6V8h6"/><path d="m17 4 4 4-4 4"/>`),
	"hold":           icon(`<path d="M3 17h18"/><path d="M7 17V9a5 5 0 0 1 10 0v8"/>`),
	"ease":           icon(`<path d="M3 7c7 0 8 10 18 10"/><path d="m17 13 4 4-4 4"/>`),
	"step-back":      icon(`<path d="M21 4h-6v6H9v6H3"/><path d="m7 20-4-4 4-4"/>`),
	"refer":          icon(`<path d="M8.3 2.5h7.4l5.8 5.8v7.4l-5.8 5.8H8.3l-5.8-5.8V8.3z"/><path d="M12 7v6.5"/><path d="M12 17v.1"/>`),
	"not-assessable": icon(`<circle cx="12" cy="12" r="8.5" stroke-dasharray="3 3"/><path d="M9.8 9.6a2.3 2.3 0 1 1 3.2 2.2c-.7.3-1 .8-1 1.7"/><path d="M12 16.6v.1"/>`),
	"none":           icon(`<path d="M9 6v12M15 6v12"/>`),
	"yes":            icon(`<circle cx="12" cy="12" r="8.5"/><path d="m8 12.4 2.8 2.8L16 9.6"/>`),
	"nearly":         icon(`<circle cx="12" cy="12" r="8.5"/><path d="M7.5 13c1.5-2 3-2 4.5-.7s3 1.3 4.5-.7"/>`),
	"not-yet":        icon(`<circle cx="12" cy="12" r="8.5"/><path d="M8 12h8"/>`),
	"tell-us":        icon(`<path d="M4 5h16v11h-8l-5 4v-4H4z"/><path d="M8.5 9h7M8.5 12h4"/>`),
	"no":             icon(`<circle cx="12" cy="12" r="8.5"/><path d="m9 9 6 6M15 9l-6 6"/>`),
	"bell":           icon(`<path d="M6 17h12l-1.5-2.5V10a4.5 4.5 0 0 0-9 0v4.5z"/><path d="M10.5 20h3"/>`),
}

// verdictIcon is the icon of a verdict; none for a client who is not assessed.
func verdictIcon(v *record.Verdict) template.HTML {
	if v == nil {
		return icons["none"]
	}
	return icons[string(*v)]
}

// rungs draws the three stages as steps with the present one filled; nothing without a stage.
func rungs(stage int) template.HTML {
	if stage == 0 {
		return ""
	}
	s := `<svg class="rungs" viewBox="0 0 36 24" width="36" height="24" aria-hidden="true" focusable="false">`
	for i, box := range []string{`x="1" y="15" width="10" height="8"`, `x="13" y="9" width="10" height="14"`, `x="25" y="3" width="10" height="20"`} {
		class := "step"
		if i+1 == stage {
			class = "step here"
		} else if i+1 < stage {
			class = "step past"
		}
		s += `<rect class="` + class + `" ` + box + ` rx="1.5"/>`
	}
	return template.HTML(s + `</svg>`)
}
