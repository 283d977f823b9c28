package coach

import (
	"cmp"
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"slices"
	"strings"

	"nextrung/internal/answers"
	"nextrung/internal/fault"
	"nextrung/internal/logbook"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// FromClient is who enters what comes through a client's link.
const FromClient = "client"

// How long a link leads somewhere, in days: what is usual, and the most (common practice, no source).
const LinkDays, MostLinkDays = 90, 366

// tokenSize is 128 bits, too many to guess.
const tokenSize = 16

// Link is a client's way to their own page, as the trainer sees it.
type Link struct {
	Client    string
	Made      workout.Date
	Expires   workout.Date // its last day
	Answers   bool         // it takes the answers to the week's questions
	Withdrawn workout.Date // 0 while it was not withdrawn
}

// Leads says whether the link leads somewhere on a day.
func (l Link) Leads(on workout.Date) bool { return l.Withdrawn == 0 && l.Made <= on && on <= l.Expires }

// MakeLink makes a new link for a client, which leads to their page for a number of days, and withdraws the one before.
// The token is given once: the book keeps only its digest.
func (c *Coach) MakeLink(ctx context.Context, client string, days int, takesAnswers bool, on workout.Date) (token string, err error) {
	if days < 1 || days > MostLinkDays {
		return "", fault.In("days", days, "must be between 1 and %d", MostLinkDays)
	}
	b := make([]byte, tokenSize)
	_, _ = rand.Read(b) // never fails
	token = base64.RawURLEncoding.EncodeToString(b)
	return token, c.book.AddLink(ctx, logbook.Link{
		Client: client, Token: workout.DigestOf([]byte(token)), Made: on, Expires: on + workout.Date(days), Answers: takesAnswers,
	})
}

// WithdrawLinks ends the links of a client.
func (c *Coach) WithdrawLinks(ctx context.Context, client string, on workout.Date) error {
	return c.book.WithdrawLinks(ctx, client, on)
}

// Links are each client's last link, by the client's name.
func (c *Coach) Links(ctx context.Context) (map[string]Link, error) {
	all, err := c.book.Links(ctx)
	out := map[string]Link{}
	for _, l := range all {
		out[l.Client] = Link{l.Client, l.Made, l.Expires, l.Answers, l.Withdrawn}
	}
	return out, err
}

// errNoLink is the one answer to every token that leads nowhere: foreign, expired or withdrawn.
var errNoLink = fault.New(fault.NotFound, "this link does not work; ask your trainer for a new one")

// LinkOf is the link that a token belongs to. Every token is compared with every link in the same way, whatever it is
// and however it ends, so that neither the answer nor its time says anything about a token.
func (c *Coach) LinkOf(ctx context.Context, token string, on workout.Date) (Link, error) {
	all, err := c.book.Links(ctx)
	if err != nil {
		return Link{}, err
	}
	given := workout.DigestOf([]byte(token))
	var found Link
	for _, l := range all {
		this := Link{l.Client, l.Made, l.Expires, l.Answers, l.Withdrawn}
		if subtle.ConstantTimeCompare(given[:], l.Token[:]) == 1 {
			found = this
		}
	}
	if !found.Leads(on) {
		return Link{}, errNoLink
	}
	return found, nil
}

// mostAnswers is how many messages a link takes in one day: no client sends more. Of those that may speak of a sign,
// an illness, a medicine, a pregnancy or an injury it takes ten times as many, so that one is lost only to somebody who
// floods the book.
const (
	mostAnswers = 10
	mostHealth  = 100
)

// AnswerByLink enters what a client wrote on their own page. It is read like a message that was pasted, and what may be a grave
// sign is asked about like any other. What was read is returned, also with an error: a client who wrote of a grave
// sign has to hear at once what to do, kept or not.
func (c *Coach) AnswerByLink(ctx context.Context, l Link, text string, on workout.Date) (Message, error) {
	if !l.Answers {
		return Message{}, errNoLink
	}
	text = strings.ReplaceAll(text, "\r\n", "\n")
	m, err := c.ReadMessage(ctx, l.Client, text, on, 0)
	if err != nil { // not kept; what it may say of a grave sign is read all the same
		m.Pieces = graveIn(text, answers.Setting{On: on, Client: l.Client})
		return m, err
	}
	r, err := c.book.Record(ctx, l.Client, on)
	if err != nil {
		return m, err
	}
	came, most := 0, mostAnswers
	if slices.ContainsFunc(m.Notes, func(n record.Note) bool { return len(n.Symptoms)+len(n.Suspected) > 0 }) {
		most = mostHealth
	}
	for _, n := range r.Notes {
		if n.By == FromClient && n.Entered == on {
			came++
		}
	}
	if came >= most {
		return m, fault.New(fault.Refused, "that is as many messages as this page takes in a day, so this one was not kept; please call your trainer")
	}
	for i := range m.Notes {
		m.Notes[i].By = cmp.Or(m.Notes[i].By, FromClient)
	}
	return c.EnterMessage(logbook.By(ctx, FromClient), m, false, on)
}

// graveIn finds what may speak of a grave sign in a text that is not kept, however long it is. It is read in stretches,
// since reading takes longer than a text grows; they overlap, so that a sentence cut by one stands whole in the next.
func graveIn(text string, s answers.Setting) []answers.Piece {
	const stretch, overlap = 1000, 250 // bytes
	var out []answers.Piece
	for from := 0; from < len(text); from += stretch - overlap {
		part := strings.ToValidUTF8(text[from:min(from+stretch, len(text))], " ")
		out = append(out, answers.Parse(part, s).Grave()...)
	}
	return out
}
