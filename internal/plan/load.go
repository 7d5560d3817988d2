package plan

// Load reads a plan with changes made, and checks it. The plan is nil where any finding is an error, so that
// what is returned needs no further doubt.
func Load(name string, text []byte, known Known, changes ...Change) (*Plan, []Finding) {
	p, findings := Apply(name, text, changes...)
	if p == nil {
		return nil, findings
	}
	findings = sorted(append(findings, Check(p, known)...))
	if Failed(findings) {
		return nil, findings
	}
	return p, findings
}
