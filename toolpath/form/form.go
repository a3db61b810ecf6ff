package form

// Kind is what sort of value a key takes.
type Kind uint8

const (
	Text    Kind = iota // any text, cleaned of nothing
	Word                // one of Key.Choices
	Length              // "3/16 in"; a bare number takes the file's units
	Size                // a length that must halve exactly, so a diameter or a width
	Angle               // "30 deg"
	Feed                // "150 mm/min"
	Speed               // "1200 rpm"
	Surface             // "25 m/min"
	Time                // "3 s"
	Lead                // "8 TPI", "14/11 mm", "0.100 in": for one turn
	Rate                // a length for a length, "0.02 mm in 300 mm"
	Count               // a whole number
	Number              // an exact decimal or fraction without a unit: 62.5, 125/2
	Flag                // true or false
	Lengths             // a list of lengths; Key.Len fixes how many, 0 is any number
	Speeds              // a list of speeds
	Counts              // a list of whole numbers; Key.Len as above
	Sub                 // a table: Key.Table
	Subs                // a list of tables: Key.Table
)

// Key is one row of a key table: what a file may say under one name, what is
// taken where it says nothing, and how it is told to a reader.
type Key struct {
	Name     string
	Kind     Kind
	Required bool
	Default  string   // as a person would write it, without quotes; shown in the reference and used where the key is absent; "" is none
	Says     string   // for the reference where a default is worked out ("half of the leave")
	Choices  []string // for Word
	Len      int      // for Lengths and Counts
	Min, Max string   // bounds as a person would write them, both included; "" is none
	Above    string   // a bound that is not included ("0 mm")
	Table    *Table   // for Sub and Subs
	Help     string   // one line, no full stop
}

// Table is the keys that one table of a file may hold.
type Table struct {
	Help string
	Keys []Key
	// By names a Word key of this table whose value picks further keys out of
	// Variants, as a cut's recipe does. The Choices of that key are the names of
	// Variants.
	By       string
	Variants map[string]*Table
}

// Position is where a value stands in a file.
type Position struct {
	File string
	Line int    // from 1; 0 where the fault is the file's as a whole
	Key  string // with array indexes from 1: "setup[1].cut[2].width"
}

// Fault is one thing that is wrong with a file: what was found and what would
// do, as a sentence in lower case without a full stop.
type Fault struct {
	Position
	Text string
}

// Faults is every fault that was found, in the order of the lines. As an error
// it prints a line for each.
type Faults []Fault
