package validation

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// boxNames are the names of the standard test's boxes, with or without FF for free floating.
var boxNames = regexp.MustCompile(`\b(6|9)[0-9]0FF\b`)

// The program cannot know that it is being tested: no code outside this folder names a box of the standard test.
func TestNoBoxIsNamedElsewhere(t *testing.T) {
	files := 0
	for _, root := range []string{"../internal", "../cmd"} {
		err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") {
				return err
			}
			files++
			text, err := os.ReadFile(path)
			if err == nil && boxNames.Match(text) {
				t.Errorf("%s names %s", path, boxNames.Find(text))
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if files == 0 {
		t.Error("no code was read")
	}
}
