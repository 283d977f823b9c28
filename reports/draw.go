package reports

import (
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"runtime"
	"sync"

	"modernc.org/quickjs"

	"nextrung/internal/workout"
)

// at is a width for which a chart is drawn, in pixels, where this drawing is shown, and which height is its own: the
// style sheet shows the classes "at-wide", "at-phone" and "at-paper" where they belong.
type at struct {
	class string
	width int
	form
}

// form decides the height of a drawing.
type form int

const (
	wide form = iota
	phone
)

// picture is a chart drawn for one width.
type picture struct {
	Class string
	SVG   template.HTML
}

// shownAt are the widths at which the charts of a part of a page are shown, and whether somebody can point at them.
type shownAt struct {
	at    []at
	point bool
}

// A drawing costs some 20 ms, so that one serves wherever its letters stay readable when it is stretched or shrunk: the
// trainer's pages have charts of the whole width, which is 976 pixels on a screen and 660 on paper, and of half of it,
// which is about that of a phone; a client's page is 640 wide.
var (
	wholeWidth = shownAt{[]at{{"at-wide at-paper", 780, wide}, {"at-phone", 350, phone}}, true}
	halfWidth  = shownAt{[]at{{"at-wide at-phone at-paper", 400, wide}}, true}
	clientPage = shownAt{[]at{{"at-wide at-paper", 640, wide}, {"at-phone", 350, phone}}, false}
	pageAlone  = shownAt{wholeWidth.at, false}
	halfAlone  = shownAt{halfWidth.at, false}

	// doctorSheet has as many pixels as the paper is wide, so that letters are as large as those around them.
	doctorSheet = shownAt{[]at{{"at-wide at-paper", 680, wide}, {"at-phone", 350, phone}}, false}
)

// heights are the heights of a chart by its size and form, in pixels.
var heights = map[string][2]int{"": {240, 272}, "short": {180, 180}, "low": {180, 192}, "weeks": {160, 176}, "sheet": {150, 180}, "tall": {300, 304}, "taller": {380, 400}}

// paint draws charts for a part of a page; nil ones and those that are drawn already are left out.
func paint(where shownAt, all ...*chart) error {
	var wait sync.WaitGroup
	failed := make([]error, len(all))
	for i, c := range all {
		if c == nil || c.Drawn != nil {
			continue
		}
		c.Drawn = make([]picture, len(where.at))
		wait.Go(func() {
			for k, a := range where.at {
				svg, err := draw(c.Option, a.width, heights[c.Size][a.form])
				if err != nil {
					failed[i] = fmt.Errorf("draw the chart %q: %w", c.Title, err)
					return
				}
				c.Drawn[k] = picture{a.class, template.HTML(svg)}
			}
			if !where.point {
				c.Option = nil
			}
		})
	}
	wait.Wait()
	return errors.Join(failed...)
}

// draw gives the SVG of a chart's option. What was drawn before is not drawn again.
func draw(option json.RawMessage, width, height int) (string, error) {
	key := workout.DigestOf(fmt.Appendf(option[:len(option):len(option)], " %d %d", width, height))
	if svg, ok := drawings.get(key); ok {
		return svg, nil
	}
	p, err := hire()
	if err != nil {
		return "", err
	}
	defer p.free()
	out, err := p.vm.Call("drawChart", string(option), width, height, "d"+key.Short())
	if err != nil {
		return "", err
	}
	svg, ok := out.(string)
	if !ok {
		return "", fmt.Errorf("the chart runtime gave %T", out)
	}
	drawings.put(key, svg)
	return svg, nil
}

// painter draws with the chart library in its server mode; one chart at a time.
type painter struct{ vm *quickjs.VM }

// painters are the idle ones; there are never more than the machine has processors.
var (
	painters = make(chan painter, runtime.GOMAXPROCS(0))
	places   = make(chan struct{}, runtime.GOMAXPROCS(0))
)

// compiled is the library, made ready once: a fifth of a second.
var compiled = sync.OnceValues(func() ([]byte, error) {
	js, err := readRuntime(built, "draw.js")
	if err != nil {
		return nil, err
	}
	vm, err := quickjs.NewVM()
	if err != nil {
		return nil, err
	}
	defer vm.Close()
	return vm.Compile(string(js), quickjs.EvalGlobal)
})

// surroundings are what the library expects of a browser without a document.
const surroundings = "globalThis.console={log(){},warn(){},error(){}};globalThis.setTimeout=()=>0;globalThis.clearTimeout=()=>{};"

func hire() (painter, error) {
	places <- struct{}{}
	select {
	case p := <-painters:
		return p, nil
	default:
	}
	p, err := newPainter()
	if err != nil {
		<-places
	}
	return p, err
}

func (p painter) free() {
	painters <- p
	<-places
}

func newPainter() (painter, error) {
	code, err := compiled()
	if err != nil {
		return painter{}, err
	}
	vm, err := quickjs.NewVM()
	if err != nil {
		return painter{}, err
	}
	_, err = vm.Eval(surroundings, quickjs.EvalGlobal)
	if err == nil {
		_, err = vm.EvalBytecode(code)
	}
	if err != nil {
		vm.Close()
		return painter{}, fmt.Errorf("start the chart runtime: %w", err)
	}
	return painter{vm}, nil
}

// drawings keeps what was drawn. When it is full, all of it goes: what is needed again is soon there again.
var drawings = shelf{most: 32 << 20}

type shelf struct {
	mutex      sync.Mutex
	svg        map[workout.Digest]string
	size, most int // bytes
}

func (d *shelf) get(key workout.Digest) (string, bool) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	svg, ok := d.svg[key]
	return svg, ok
}

func (d *shelf) put(key workout.Digest, svg string) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if d.svg == nil || d.size+len(svg) > d.most {
		d.svg, d.size = map[workout.Digest]string{}, 0
	}
	d.svg[key] = svg
	d.size += len(svg)
}
