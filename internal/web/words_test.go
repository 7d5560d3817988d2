package web

import "testing"

func TestWordsAreServed(t *testing.T) {
	s, _ := site(t, "")
	status, _, text := ask(t, s, "GET", "/api/words", nil)
	for _, w := range decode[WordList](t, text).Words {
		if w.Word == "reserve" && w.Meaning != "" {
			return
		}
	}
	t.Errorf("%d: reserve is not explained: %.200s", status, text)
}
