package reports

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// TestThePictureHasTheColoursOfThePage: a picture that is sent on its own reads no style sheet, so that its
// colours stand in it a second time. Each must be one of the light page.
func TestThePictureHasTheColoursOfThePage(t *testing.T) {
	source, err := os.ReadFile("picture.go")
	if err != nil {
		t.Fatal(err)
	}
	light, _, _ := strings.Cut(style, "}")
	colours := regexp.MustCompile(`#[0-9a-f]{6}`).FindAllString(string(source), -1)
	if len(colours) == 0 {
		t.Fatal("no colour seen")
	}
	for _, c := range colours {
		if !strings.Contains(light, c) {
			t.Errorf("%s is no colour of styles/page.css", c)
		}
	}
}
