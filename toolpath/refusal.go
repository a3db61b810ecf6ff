package toolpath

import "fmt"

// Refusal is a cut that cannot be planned without breaking a limit.
type Refusal struct {
	Setup, Cut string
	Limit      string
	Planned    string // the figure planned
	Allowed    string // the figure allowed
	Do         string // what would do
}

func (r Refusal) Error() string {
	return fmt.Sprintf("%s, %s: %s: planned %s, allowed %s: %s", r.Setup, r.Cut, r.Limit, r.Planned, r.Allowed, r.Do)
}
