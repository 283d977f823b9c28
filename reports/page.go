package reports

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"strings"

	"nextrung/internal/hindsight"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Client is everything that the pages of one client show. The pages judge nothing: verdict,
// reasons and next week come from the assessment and the prescription.
type Client struct {
	Record     record.Record
	Assessment record.Assessment
	// Weeks are those since the stage or the programme began, oldest first; the last ends on the
	// day of the assessment.
	Weeks []record.Week
	// Next is the plan that stands, nil when there is none; Known is the record as it was when the plan was made.
	Next  *record.Prescription
	Known record.Record
	// IfAccepted is the plan that follows when the trainer accepts a recommended change; nil when none is recommended.
	IfAccepted *record.Prescription
	// Stopped says to the trainer what came to light after the day of the assessment and stops its week; "" for nothing.
	Stopped string
	// Proposed are the open proposals of other zones; only the trainer's pages show them.
	Proposed []proposal.Proposal
	Peaks    []proposal.Peak // above the maximum that the zones rest on
	// Past looks back on the earlier decisions.
	Past hindsight.History
	// Changed says what is known now of the days up to the assessment that it did not know; nil for
	// nothing.
	Changed *hindsight.Changed
	// Workouts names the recordings, by ID, whose workout page exists; only those get a link.
	Workouts map[string]bool
	// Forms are what the trainer can do on the page while it is served; "" for a page on disk.
	Forms template.HTML
	// AnswersAt is the address of the page on which the client answers the week's questions; "" for none.
	AnswersAt string
	// Sealed is the seal of the book when something was last entered about the client; "" for none.
	Sealed string
}

//go:embed templates/*.html
var templateFiles embed.FS

//go:embed styles/page.css
var style string

var templates = template.Must(template.New("").ParseFS(templateFiles, "templates/*.html"))

// frame is what every page has.
type frame struct {
	Title  string
	Policy string // the content security policy
	Style  template.CSS
	Source string // the name of the runtime beside a page
	Forms  template.HTML
	Rooms  []Room // where the trainer can go from a page that is served
	Sheet  string // the address of the style of forms, of a page that is served
}

// ServedStyle and ServedScript are the names of the style and of the script of forms, which a served page loads beside it.
const (
	ServedStyle  = "desk.css"
	ServedScript = "desk.js"
)

// served puts forms into a page of a room and lets it send them to where it came from. A page without forms stays as it is.
func (f frame) served(room string, forms template.HTML) frame {
	if forms != "" {
		f.Forms, f.Policy, f.Rooms, f.Sheet = forms, servedPolicy(), Rooms(room), ServedStyle
	}
	return f
}

// servedPolicy is contentPolicy for a page that comes from a server and sends forms back to it.
func servedPolicy() string {
	return "default-src 'none'; script-src 'self'; style-src 'self' '" + hash(style) + "'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'self'"
}

// scripted lets a page load the runtime from its own folder, so that the trainer can point at the charts. On a page
// opened from disk 'self' matches nothing, hence file:.
func (f frame) scripted() (frame, error) {
	name, _, err := Runtime()
	f.Source, f.Policy = name, contentPolicy("'self' file:")
	return f, err
}

// ServedPolicy is the content security policy that a server sends with each of its answers: what the policies inside the
// pages, most of them stricter, allow together, and no other page around them.
func ServedPolicy() string { return servedPolicy() + "; frame-ancestors 'none'" }

// unscripted makes the frame of a page that stands alone in one file.
func unscripted(title string) frame {
	return frame{Title: title, Style: template.CSS(style), Policy: contentPolicy("'none'")}
}

// contentPolicy forbids a page everything but its own style and the given scripts.
func contentPolicy(scripts string) string {
	return "default-src 'none'; script-src " + scripts + "; style-src '" + hash(style) +
		"'; img-src data:; base-uri 'none'; form-action 'none'"
}

// hash names the exact text of an inline script or style in a content security policy.
func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// render fills a template into a buffer first, so that a fault gives an error and no half page.
func render(name string, data any) ([]byte, error) {
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, name, data); err != nil {
		return nil, fmt.Errorf("make the page from %s: %w", name, err)
	}
	return b.Bytes(), nil
}

// FileName is the name of a page's file: "roster.html", "decision-ines.html". A name that is not
// one capital with small letters or digits behind it gets a digest as well, so that no two clients
// share a file.
func FileName(page, client string) string { return fileStem(page, client) + ".html" }

// PictureName is the name of the file of a client's progress picture.
func PictureName(client string) string { return fileStem("progress", client) + ".svg" }

// TextName is the name of the file of a client's progress as text to paste.
func TextName(client string) string { return fileStem("progress", client) + ".txt" }

// SessionFile is the name of the file of a planned session for a watch, by its day and its number in
// the week: "2026-10-05-session-1-ines.fit".
func SessionFile(on workout.Date, n int, client string) string {
	return fileStem(fmt.Sprintf("%s-session-%d", on, n), client) + ".fit"
}

// WorkoutFile is the name of the file of a recording's page.
func WorkoutFile(r record.Recording) string {
	return "workout-" + workout.DigestOf([]byte(r.Client+"\x00"+r.ID)).Short() + ".html"
}

func fileStem(page, client string) string {
	if client == "" {
		return page
	}
	var b strings.Builder
	for i, r := range client {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case i == 0 && r >= 'A' && r <= 'Z':
			b.WriteRune(r - 'A' + 'a')
		default:
			b.WriteByte('-')
		}
	}
	stem := b.String()
	const longest = 60 // file systems allow 255 bytes
	if strings.Contains(stem, "-") || stem[:1] == client[:1] || len(stem) > longest {
		stem = stem[:min(len(stem), longest)] + "-" + workout.DigestOf([]byte(client)).Short()
	}
	return page + "-" + stem
}
