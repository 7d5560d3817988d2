package web

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"suncellar/examples"
)

// The band by drawn houses says how many they are, grows, and a house that is known has none.
func TestDrawnBand(t *testing.T) {
	s, _ := site(t, "")
	loft := small(string(examples.All()[2].Plan))
	in := DrawnRequest{AnswerRequest{Name: "crow-loft.yaml", Text: loft}, 5}
	status, _, text := ask(t, s, "POST", "/api/band/drawn", in)
	five := decode[BandAnswer](t, text)
	if status != 200 || five.Houses != 5 || five.LowC == nil || !(*five.LowC < *five.HighC) {
		t.Fatalf("%d %.300s", status, text)
	}
	in.Houses = 8
	_, _, text = ask(t, s, "POST", "/api/band/drawn", in)
	if eight := decode[BandAnswer](t, text); eight.Houses != 8 || eight.LowC == nil || !strings.Contains(eight.Surely, "by 8 drawn houses") || !strings.Contains(eight.Surely, "With 8 houses an end may lie off") {
		t.Errorf("%.300s", text)
	}
	in.Text += "unknown: {leakage: off, dirt: off, ageing: off, drum_factor: off, inside_factor: off, snowfall: off}\n"
	_, _, text = ask(t, s, "POST", "/api/band/drawn", in)
	if none := decode[BandAnswer](t, text); none.Houses != 0 || none.LowC != nil || none.Surely == "" {
		t.Errorf("all is known: %.300s", text)
	}
	in.Houses = 2
	if status, _, _ := ask(t, s, "POST", "/api/band/drawn", in); status != 422 {
		t.Errorf("2 houses: %d", status)
	}
}

// What is done while nobody waits ends at once when somebody comes, is not begun beside another, and who asked can end it too.
func TestIdleWorkGivesWay(t *testing.T) {
	t.Parallel()
	l := newLine()
	begun, ended := make(chan bool, 9), make(chan error, 9)
	idle := func(ctx context.Context) {
		ended <- l.whileIdle(ctx, func(ctx context.Context) error {
			begun <- true
			<-ctx.Done()
			return ctx.Err()
		})
	}
	go idle(context.Background())
	<-begun
	if err := l.whileIdle(context.Background(), func(context.Context) error { return nil }); !errors.Is(err, errGivesWay) {
		t.Errorf("beside another: %v", err)
	}
	var within, after error
	err := l.do(context.Background(), func() error {
		within = <-ended
		after = l.whileIdle(context.Background(), func(context.Context) error { return nil })
		return nil
	})
	if err != nil || !errors.Is(within, errGivesWay) || !errors.Is(after, errGivesWay) {
		t.Errorf("%v; when somebody comes %v, while somebody waits %v", err, within, after)
	}
	if err := l.whileIdle(context.Background(), func(context.Context) error { return nil }); err != nil {
		t.Errorf("when all is quiet: %v", err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Hour)
	go idle(ctx)
	<-begun
	cancel()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("who asked went away: %v", err)
	}
}
