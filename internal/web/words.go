package web

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/report"
)

// WordList is what words of the trade mean.
type WordList struct {
	Words []Word `json:"words"`
}

// Word is one of them.
type Word struct {
	Word    string `json:"word"`
	Meaning string `json:"meaning"`
	Source  string `json:"source,omitempty" doc:"of the figures in the meaning"`
}

// words explains the words of the trade that stand on the page.
func (s *Server) words(api huma.API) {
	huma.Register(api, huma.Operation{OperationID: "list-words", Method: http.MethodGet, Path: "/api/words", Summary: "What words of the trade mean"},
		func(context.Context, *struct{}) (*answered[WordList], error) {
			out := WordList{Words: []Word{}}
			for _, w := range report.Words() {
				out.Words = append(out.Words, Word(w))
			}
			return &answered[WordList]{out}, nil
		})
}
