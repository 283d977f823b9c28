package logbook_test

import "testing"

func TestSettingsAreKept(t *testing.T) {
	dir := t.TempDir()
	b := open(t, dir)
	for _, value := range []string{"", "Ketil", "Marit", "", "Ketil"} {
		if err := b.Set(t.Context(), "by", value); err != nil {
			t.Fatal(err)
		}
		if got, err := b.Setting(t.Context(), "by"); err != nil || got != value {
			t.Errorf("%q, %v; want %q", got, err, value)
		}
	}
	b.Close()
	if got, err := open(t, dir).Setting(t.Context(), "by"); err != nil || got != "Ketil" {
		t.Errorf("reopened: %q, %v", got, err)
	}
	if got, err := open(t, t.TempDir()).Setting(t.Context(), "drop"); err != nil || got != "" {
		t.Errorf("a new book: %q, %v", got, err)
	}
}
