package reports

import (
	"bytes"
	"fmt"
	"html"
	"math"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
)

// ProgressPicture is the weekly minutes as one still picture (SVG), for messages and for printing.
// It needs no runtime; its colours are fixed and it brings its own ground.
func ProgressPicture(c Client) []byte {
	const (
		width, height            = 760, 496
		left, right, top, bottom = 64, 24, 178, 62
	)
	weeks := known(c.Weeks)
	weeks = weeks[max(0, len(weeks)-16):]
	most := 30.0
	for _, w := range weeks {
		most = max(most, w.Minutes)
		if n := planned(w); n != nil {
			most = max(most, float64(*n))
		}
	}
	step := tickStep(most)
	most = math.Ceil(most/step) * step
	y := func(v float64) float64 { return height - bottom - v/most*(height-bottom-top) }
	var b bytes.Buffer
	put := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	name := html.EscapeString(c.Record.Client.Name)
	put(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-labelledby="t d" font-family="system-ui, sans-serif">`,
		width, height, width, height)
	put(`<title id="t">Minutes a week of %s</title>`, name)
	put(`<desc id="d">%s</desc>`, html.EscapeString(pictureText(weeks)))
	put(`<rect width="%d" height="%d" fill="#fbf9fc"/>`, width, height)
	put(`<text x="24" y="46" font-size="26" font-weight="650" fill="#251b2c">%s</text>`, name)
	line := func(y int, style, text string) {
		put(`<text x="24" y="%d" %s>%s</text>`, y, style, html.EscapeString(text))
	}
	const soft, strong = `font-size="16" fill="#5f5468"`, `font-size="16" font-weight="650" fill="#251b2c"`
	if a := alarmOf(c); a != nil {
		put(`<rect x="16" y="58" width="%d" height="40" rx="4" fill="#9b1c2e"/>`, width-32)
		line(85, `font-size="21" font-weight="650" fill="#fbf9fc"`, a.Head)
		line(118, strong, signs.StopLine)
		if a.Recall {
			line(140, strong, signs.AfterReferral)
		}
	} else {
		line(74, strong, signs.StopLine)
		line(100, soft, where(c)+" Minutes a week; the dark line is what was planned.")
	}
	for v := 0.0; v <= most; v += step {
		put(`<path d="M%d %.1fH%d" stroke="#e0d8e5"/>`, left, y(v), width-right)
		put(`<text x="%d" y="%.1f" font-size="14" text-anchor="end" fill="#5f5468">%s</text>`, left-8, y(v)+5, wording.Number(v))
	}
	put(`<text x="%d" y="%d" font-size="14" fill="#5f5468">min</text>`, left-34, top-14)
	slot := float64(width-left-right) / float64(max(1, len(weeks)))
	bar := min(44, slot*0.6)
	for i, w := range weeks {
		x := left + slot*(float64(i)+0.5)
		if w.Minutes > 0 {
			put(`<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" rx="3" fill="#c3a9d1" stroke="#6b5579"/>`, x-bar/2, y(w.Minutes), bar, y(0)-y(w.Minutes))
			put(`<text x="%.1f" y="%.1f" font-size="14" text-anchor="middle" fill="#251b2c">%s</text>`, x, y(w.Minutes)-7, wording.Number(math.Round(w.Minutes)))
		} else {
			put(`<text x="%.1f" y="%.1f" font-size="13" text-anchor="middle" fill="#5f5468">%s</text>`, x, y(0)-7, emptyWeek(w))
		}
		if n := planned(w); n != nil {
			put(`<path d="M%.1f %.1fh%.1f" stroke="#251b2c" stroke-width="3"/>`, x-bar/2-4, y(float64(*n)), bar+8)
		}
		if len(weeks) <= 10 || (len(weeks)-1-i)%2 == 0 {
			put(`<text x="%.1f" y="%d" font-size="14" text-anchor="middle" fill="#5f5468">%s</text>`, x, height-bottom+22, w.To.Short())
		}
	}
	put(`<text x="%d" y="%d" font-size="14" text-anchor="middle" fill="#5f5468">week to</text>`, (left+width-right)/2, height-18)
	put(`</svg>`)
	return b.Bytes()
}

func emptyWeek(w record.Week) string {
	if w.Paused {
		return "away"
	}
	return "none"
}

// tickStep is a round distance between lines, for four to six of them.
func tickStep(most float64) float64 {
	for _, s := range []float64{10, 15, 30, 60, 120, 240} {
		if most/s <= 6 {
			return s
		}
	}
	return 480
}

func pictureText(weeks []record.Week) string {
	text := ""
	for _, w := range weeks {
		text += fmt.Sprintf("Week to %s: %s min", w.To.Long(), wording.Number(math.Round(w.Minutes)))
		if n := planned(w); n != nil {
			text += fmt.Sprintf(", planned %d", *n)
		}
		text += ". "
	}
	return text
}
