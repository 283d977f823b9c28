package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/logbook"
	"nextrung/internal/wording"
	"nextrung/reports"
)

// maxBackup is the size in bytes of the largest backup that can be restored.
const maxBackup = 8 << 30

const upkeepFile, licencesFile = "upkeep.html", "licences.html"

// FirstFile is the page that says what to do in an empty book.
const FirstFile = "first.html"

// upkeep adds the routes of the room Upkeep.
func (d *Desk) upkeep(mux *http.ServeMux) {
	mux.HandleFunc("GET "+runningPath, d.here)
	mux.Handle("GET /"+upkeepFile, d.page(d.upkeepPage))
	mux.Handle("GET /"+licencesFile, d.page(licences))
	mux.Handle("GET /"+FirstFile, d.page(d.first))
	mux.Handle("POST /verify", limited(maxForm, d.told(d.verify)))
	mux.Handle("POST /backup", limited(maxForm, http.HandlerFunc(d.backup)))
	mux.Handle("POST /restore", limited(maxBackup, d.told(d.restore)))
	mux.Handle("POST /export", limited(maxForm, http.HandlerFunc(d.export)))
	mux.Handle("POST /forget", limited(maxForm, d.act(d.forget)))
	mux.Handle("POST /settings", limited(maxForm, d.act(d.settings)))
}

// upkeepForm is what can be done about the book as a whole.
type upkeepForm struct {
	result
	Folder, Size, Version, Drop, By string
	Clients                         []string
	SignedIn                        bool
}

func (d *Desk) upkeepPage(r *http.Request) (content, error) {
	names, err := d.coach.Clients(r.Context())
	if err != nil {
		return content{}, err
	}
	form := upkeepForm{
		result: d.done.of(r.FormValue("done")), Folder: d.coach.Dir, Size: megabytes(d.coach.Size()), Version: coach.BuiltFrom(),
		Drop: d.coach.Drop, Clients: names, SignedIn: d.Door != nil,
	}
	if form.By, err = d.by(r); err != nil {
		return content{}, err
	}
	return room("Upkeep", "", upkeepFile, "upkeep", form)
}

// room makes a page of a room from one template.
func room(head, lead, file, template string, form any) (content, error) {
	forms, err := fill(template, form)
	if err != nil {
		return content{}, err
	}
	return html(reports.RoomPage(head, lead, file, forms))
}

// megabytes writes a size for people.
func megabytes(n int64) string {
	if n < 1e6 {
		return fmt.Sprintf("%d kB", (n+999)/1000)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

// licences lists what is inside the program and under which licence.
func licences(*http.Request) (content, error) {
	all, err := reports.Licences()
	if err != nil {
		return content{}, err
	}
	return room("Licences", "nextrung is under the MIT licence. It contains other people’s work under these licences.", upkeepFile, "licences", all)
}

// first says what to do in an empty book.
func (d *Desk) first(*http.Request) (content, error) {
	return room("Welcome", "This book is empty. Three steps, and the first week can begin.", reports.FileName("roster", ""), "first", d.coach.Drop)
}

// verify checks the whole book. It only reads, so other work goes on.
func (d *Desk) verify(r *http.Request) (to string, did result, err error) {
	var seals []logbook.Head
	if text := strings.TrimSpace(r.PostFormValue("seal")); text != "" {
		seal, err := coach.ParseSeal(text)
		if err != nil {
			return upkeepFile, did, err
		}
		seals = append(seals, seal)
	}
	found, err := d.coach.Verify(r.Context(), seals, r.PostFormValue("measure") != "")
	if err != nil {
		return upkeepFile, did, err
	}
	if len(found.Faults) == 0 {
		did.Done = found.Words()
		return upkeepFile, did, nil
	}
	did.Wrong = []string{wording.Capital(wording.Count(len(found.Faults), "fault")) + " found. Before anything else, copy the book’s folder as it is; then look at each fault with a backup at hand."}
	for _, p := range found.Faults {
		did.Wrong = append(did.Wrong, wording.Sentence(wording.Capital(p)))
	}
	return upkeepFile, did, nil
}

// backup hands out the whole book in one verified file. Other work goes on meanwhile.
func (d *Desk) backup(w http.ResponseWriter, r *http.Request) {
	if err := d.alone(r, func() error { return d.coach.KeepPolicy(r.Context(), d.on()) }); err != nil {
		d.fail(w, r, err)
		return
	}
	d.handOut(w, r, fmt.Sprintf("nextrung-%s.db", d.on()), func(file string) error { return d.coach.BackupBook(r.Context(), file) })
}

// export hands out everything about a client.
func (d *Desk) export(w http.ResponseWriter, r *http.Request) {
	var who string
	err := d.alone(r, func() (err error) {
		who, err = d.coach.Named(r.Context(), r.PostFormValue("client"))
		return err
	})
	if err != nil {
		d.fail(w, r, err)
		return
	}
	d.handOut(w, r, coach.ExportName(who, d.on()), func(file string) error {
		return d.alone(r, func() error { return d.coach.ExportFile(r.Context(), who, d.on(), file) })
	})
}

// handOut lets make write a file in a folder of its own and answers with it.
func (d *Desk) handOut(w http.ResponseWriter, r *http.Request, name string, make func(file string) error) {
	dir, err := os.MkdirTemp("", "nextrung-")
	if err != nil {
		d.fail(w, r, err)
		return
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "file")
	if err := make(file); err != nil {
		d.fail(w, r, err)
		return
	}
	f, err := os.Open(file)
	if err != nil {
		d.fail(w, r, err)
		return
	}
	defer f.Close()
	w.Header().Set("Content-Type", "application/octet-stream")
	w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
	http.ServeContent(w, r, "", d.now(), f)
}

// restore replaces the book with an uploaded backup. A slow upload holds nobody up.
func (d *Desk) restore(r *http.Request) (to string, did result, err error) {
	dir, err := os.MkdirTemp("", "nextrung-")
	if err != nil {
		return upkeepFile, did, err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "backup.db")
	name, sure, err := uploaded(r, file)
	switch {
	case err != nil:
		return upkeepFile, did, err
	case name == "":
		return upkeepFile, did, fault.New(fault.Wrong, "choose the backup first")
	case !sure:
		return upkeepFile, did, fault.New(fault.Wrong, "nothing was restored: tick the box to replace today’s book with the backup")
	}
	d.acts.Lock()
	defer d.acts.Unlock()
	old, err := d.coach.Restore(r.Context(), file, d.now())
	if err != nil && old == "" {
		did.Wrong = []string{"Nothing was restored from " + name + ": the book is as it was."}
	}
	if err == nil {
		did.Done = []string{
			"The backup was verified and is now the book. The one before it is kept as " + filepath.Base(old) + " in the book’s folder.",
			"Clients who were forgotten after the backup was made are back in the book: forget them again.",
		}
	}
	return upkeepFile, did, err
}

// uploaded keeps the file that came with a form, and gives its name, "" if none was chosen, and whether the box was ticked.
func uploaded(r *http.Request, file string) (name string, sure bool, err error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return "", false, fault.New(fault.Wrong, "no file came with the form")
	}
	for {
		part, err := parts.NextPart()
		switch {
		case err == io.EOF:
			return name, sure, nil
		case err != nil:
			return "", false, errUploadEnded
		case part.FormName() == "sure":
			sure = true
		case part.FormName() == "file" && part.FileName() != "":
			name = part.FileName()
			if err := keepPart(file, part); err != nil {
				return "", false, err
			}
		}
	}
}

// errUploadEnded is a backup that did not arrive whole.
var errUploadEnded = fault.New(fault.Wrong, "the upload broke off or was too large: nothing was restored")

func keepPart(file string, from io.Reader) error {
	f, err := os.Create(file)
	if err != nil {
		return err
	}
	if _, err := io.Copy(f, from); err != nil {
		f.Close()
		return errUploadEnded
	}
	return f.Close()
}

// forget removes a client whose name was typed.
func (d *Desk) forget(r *http.Request) (to string, did result, err error) {
	who, err := d.coach.Named(r.Context(), r.PostFormValue("client"))
	if err != nil {
		return upkeepFile, did, err
	}
	if typed := strings.TrimSpace(r.PostFormValue("typed")); typed != who {
		return upkeepFile, did, fault.In("name", typed, "is not %s: nobody was forgotten", who)
	}
	if err := d.coach.Forget(r.Context(), who, d.on(), r.PostFormValue("although") == "open"); err != nil {
		return upkeepFile, did, err
	}
	did.Done = []string{"Everything about " + who + " has been removed from the book. Backups, and any earlier book that a restore kept beside this one, still hold it."}
	return upkeepFile, did, nil
}

// settings sets who decides and where the drop folder is.
func (d *Desk) settings(r *http.Request) (to string, did result, err error) {
	by, drop := strings.TrimSpace(r.PostFormValue("by")), strings.TrimSpace(r.PostFormValue("drop"))
	switch {
	case drop == "":
		err = fault.New(fault.Wrong, "the drop folder is missing: name one")
	case drop != d.coach.Drop && !filepath.IsAbs(drop):
		err = fault.New(fault.Wrong, "the drop folder %q is not a full path: begin with the drive or the root folder", drop)
	case drop != d.coach.Drop:
		err = d.coach.SetDrop(r.Context(), drop)
	}
	if err := errors.Join(err, d.coach.SetBy(r.Context(), by)); err != nil {
		return upkeepFile, did, err
	}
	did.Done = []string{"Kept."}
	return upkeepFile, did, nil
}
