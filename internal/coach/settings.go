package coach

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"nextrung/internal/fault"
)

// Settings are what the trainer sets once for the whole book.
type Settings struct {
	By   string `json:"by"`   // who decides and asks where nobody else is named
	Drop string `json:"drop"` // the drop folder; "" for the one that the program chose
}

// The names of the settings in the book.
const (
	settingBy   = "by"
	settingDrop = "drop"
)

// Settings gives what was set.
func (c *Coach) Settings(ctx context.Context) (s Settings, err error) {
	if s.By, err = c.book.Setting(ctx, settingBy); err == nil {
		s.Drop, err = c.book.Setting(ctx, settingDrop)
	}
	return s, err
}

// SetBy sets who decides and asks where nobody else is named.
func (c *Coach) SetBy(ctx context.Context, by string) error {
	return c.book.Set(ctx, settingBy, strings.TrimSpace(by))
}

// SetDrop moves the drop folder, with a folder for every client. Files in the old one are still taken in.
func (c *Coach) SetDrop(ctx context.Context, dir string) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return fault.In("drop", dir, "is not a folder: %v", err)
	}
	if err := c.UseDrop(ctx, dir); err != nil {
		return err
	}
	return c.book.Set(ctx, settingDrop, dir)
}

// UseDrop uses a drop folder without remembering it.
func (c *Coach) UseDrop(ctx context.Context, dir string) error {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return err
	}
	for _, sub := range append(names, refusedFolder) {
		if err := os.MkdirAll(filepath.Join(dir, sub), 0o700); err != nil {
			return fmt.Errorf("cannot make the drop folder: %w", err)
		}
	}
	c.Drop = dir
	return nil
}

// orUsual is who was named, or who usually decides and asks.
func (c *Coach) orUsual(ctx context.Context, by string) (string, error) {
	if strings.TrimSpace(by) != "" {
		return by, nil
	}
	return c.book.Setting(ctx, settingBy)
}
