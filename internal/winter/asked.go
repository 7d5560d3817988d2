package winter

// Asked is an error of something that was asked of a winter beside its plan: a day that is not in it, a place that the plan does not have.
type Asked struct {
	Of  string // what was asked: "on", "at", "bed", "pane", as doors call it
	Err error
}

func (e *Asked) Error() string { return e.Err.Error() }

func (e *Asked) Unwrap() error { return e.Err }
