// The script of the pages that are served: the library sends marked forms and puts the answer into the page. Every
// form works without it.
import "htmx.org";
import "./metronome.js";
