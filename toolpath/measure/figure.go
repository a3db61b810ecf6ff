package measure

// Origin says where a figure came from.
type Origin uint8

const (
	Given    Origin = iota // written in the job, the machine file or the call
	Derived                // worked out from other figures
	Handbook               // a row of the tool's own handbook
	Default                // worked out by a rule of the tool where nothing was given
)

func (o Origin) String() string {
	switch o {
	case Given:
		return "given"
	case Derived, Default:
		return "derived"
	case Handbook:
		return "handbook"
	}
	return "unknown"
}

// Figure is a value that knows where it came from. Source is a short text for
// a person: the key and its line, the sum that gave it, or the handbook's row.
type Figure[T any] struct {
	Value  T
	From   Origin
	Source string
}
