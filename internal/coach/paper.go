package coach

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"nextrung/internal/fault"
	"nextrung/reports"
)

// printers are the names under which browsers that print to a file from the command line are installed (common practice,
// no source).
var printers = []string{"chromium", "chromium-browser", "chrome"}

// Paper prints clients' pages that lie in a folder, and the roster if it is to be among them, to PDF files beside them, by
// a browser that is installed on the computer: browser, or the first that is found for "". It returns the paths of the
// files. Without such a browser it says so and prints nothing.
func (c *Coach) Paper(ctx context.Context, browser, dir string, clients []string, roster bool) (files []string, err error) {
	browser, err = printer(browser)
	if err != nil {
		return nil, err
	}
	var names []string
	if roster {
		names = append(names, reports.FileName("roster", ""))
	}
	for _, who := range clients {
		for _, p := range clientPages {
			names = append(names, p.file(who))
		}
	}
	profile, err := os.MkdirTemp("", "nextrung-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(profile)
	for _, name := range names {
		page := filepath.Join(dir, name)
		if _, err := os.Stat(page); err != nil || filepath.Ext(name) != ".html" {
			continue // a picture or a text, or a page that this client needs none of
		}
		if err := printed(ctx, browser, profile, page); err != nil {
			return files, err
		}
		files = append(files, paperOf(page))
	}
	return files, nil
}

// printer is the path of the browser that prints.
func printer(browser string) (string, error) {
	all := printers
	if browser != "" {
		all = []string{browser}
	}
	for _, name := range all {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	if browser != "" {
		return "", fault.In("browser", browser, "is no program that can be started; without one, open the page in any browser and print it to a file there")
	}
	return "", fault.New(fault.Needs, "no browser was found that prints pages by itself; install Chromium, or open the page in any browser and print it to a file there")
}

// printed prints one page, without asking anything from elsewhere.
func printed(ctx context.Context, browser, profile, page string) error {
	page, err := filepath.Abs(page)
	if err != nil {
		return err
	}
	part := paperOf(page) + ".part"
	defer os.Remove(part)
	options := []string{
		"headless", "disable-gpu", "disable-quic", "no-first-run", "disable-background-networking", "disable-component-update", "disable-sync",
		"user-data-dir=" + profile, "no-pdf-header-footer", "print-to-pdf=" + part,
	}
	if os.Geteuid() == 0 {
		options = append(options, "no-sandbox") // a browser refuses to start for root with it
	}
	var with []string
	for _, o := range options {
		with = append(with, "--"+o)
	}
	address := url.URL{Scheme: "file", Path: "/" + strings.TrimPrefix(filepath.ToSlash(page), "/")}
	said, err := exec.CommandContext(ctx, browser, append(with, address.String())...).CombinedOutput()
	if err == nil {
		_, err = os.Stat(part)
	}
	if err != nil {
		return fmt.Errorf("%s could not print %s: %w: %s", browser, page, err, strings.TrimSpace(string(said)))
	}
	return os.Rename(part, paperOf(page))
}

// paperOf is the file of a printed page.
func paperOf(page string) string { return strings.TrimSuffix(page, ".html") + ".pdf" }
