package trade

import "stopshort/toolpath/form"

// The fits of a clearance hole; medium is the one that is taken.
const (
	closeFit  = "close"
	mediumFit = "medium"
	freeFit   = "free"
)

// What a hole for a screw is for.
const (
	TappingHole   = "tapping"
	ClearanceHole = "clearance"
)

// The shapes of a screw's head.
const (
	SocketCap = "socket cap"
	Round     = "round" // and cheese
	Hexagon   = "hexagon"
)

// forHead are the keys of a row about the heads of a shape.
func forHead(keys ...form.Key) []form.Key {
	return rests(append([]form.Key{
		{Name: "for", Kind: form.Text, Required: true, Help: "names of threads or of series, commas between them"},
		{Name: "shape", Kind: form.Word, Required: true, Choices: []string{SocketCap, Round, Hexagon}, Help: "the head's shape"},
	}, keys...)...)
}

var drillKey = form.Key{Name: "drill", Kind: form.Text, Required: true, Help: "the drill: a diameter, #29 or F"}

var threadTable = &form.Table{
	Help: "Threads",
	Keys: []form.Key{
		{Name: "series", Kind: form.Subs, Required: true, Help: "series of threads", Table: &form.Table{
			Help: "A series", Keys: rests(
				form.Key{Name: "name", Kind: form.Text, Required: true, Help: "its name"},
				form.Key{Name: "angle", Kind: form.Angle, Required: true, Above: "0 deg", Max: "90 deg", Help: "between the flanks"},
				form.Key{Name: "minor_pitches", Kind: form.Number, Required: true, Above: "0", Max: "2", Help: "pitches from the major diameter to the minor one"},
				form.Key{Name: "full_pitches", Kind: form.Number, Required: true, Above: "0", Max: "2", Help: "pitches that are a hundred per cent of the thread"},
			)}},
		{Name: "thread", Kind: form.Subs, Required: true, Help: "threads", Table: &form.Table{
			Help: "A thread", Keys: rests(
				form.Key{Name: "name", Kind: form.Text, Required: true, Help: "its name"},
				form.Key{Name: "also", Kind: form.Text, Help: "its other names, commas between them"},
				form.Key{Name: "short", Kind: form.Text, Help: "names that other threads have too, commas between them"},
				form.Key{Name: "series", Kind: form.Text, Required: true, Help: "the series' name"},
				form.Key{Name: "number", Kind: form.Count, Min: "0", Max: "16", Help: "of a BA thread, instead of pitch and major: they are by its standard's rule"},
				form.Key{Name: "pitch", Kind: form.Lead, Help: "the pitch: a length, or 40 TPI"},
				form.Key{Name: "major", Kind: form.Size, Above: "0 mm", Help: "the major diameter"},
			)}},
		{Name: "tap", Kind: form.Subs, Required: true, Help: "tapping drills", Table: &form.Table{
			Help: "A tapping drill", Keys: rests(
				form.Key{Name: "thread", Kind: form.Text, Required: true, Help: "the thread's name"},
				drillKey,
			)}},
		{Name: "clear", Kind: form.Subs, Required: true, Help: "clearance drills", Table: &form.Table{
			Help: "A clearance drill", Keys: rests(
				form.Key{Name: "thread", Kind: form.Text, Required: true, Help: "the thread's name"},
				form.Key{Name: "fit", Kind: form.Word, Required: true, Choices: []string{closeFit, mediumFit, freeFit}, Help: "how much room it leaves"},
				drillKey,
			)}},
		{Name: "tough", Kind: form.Subs, Help: "tapping drills for tough metal", Table: &form.Table{
			Help: "A tapping drill for tough metal", Keys: rests(
				form.Key{Name: "thread", Kind: form.Text, Required: true, Help: "the thread's name"},
				drillKey,
			)}},
		{Name: "printed", Kind: form.Subs, Help: "what else is printed for a hole", Table: &form.Table{
			Help: "A figure that is printed", Keys: rests(
				form.Key{Name: "thread", Kind: form.Text, Required: true, Help: "the thread's name"},
				form.Key{Name: "hole", Kind: form.Word, Required: true, Choices: []string{TappingHole, ClearanceHole}, Help: "what the hole is for"},
				drillKey,
				form.Key{Name: "why", Kind: form.Text, Help: "why it is not the one that is taken"},
			)}},
		{Name: "head", Kind: form.Subs, Required: true, Help: "heads, across", Table: &form.Table{
			Help: "A head", Keys: forHead(
				form.Key{Name: "across", Kind: form.Size, Above: "0 mm", Help: "its diameter, of a hexagon across flats"},
				form.Key{Name: "of_major", Kind: form.Number, Above: "0", Max: "10", Help: "the same as a share of the major diameter"},
			)}},
		{Name: "height", Kind: form.Subs, Required: true, Help: "heads, high", Table: &form.Table{
			Help: "A head's height", Keys: forHead(
				form.Key{Name: "high", Kind: form.Length, Above: "0 mm", Help: "its height"},
				form.Key{Name: "of_major", Kind: form.Number, Above: "0", Max: "10", Help: "the same as a share of the major diameter"},
			)}},
		{Name: "key", Kind: form.Subs, Required: true, Help: "what turns the heads", Table: &form.Table{
			Help: "A key", Keys: forHead(
				form.Key{Name: "with", Kind: form.Text, Required: true, Help: "what turns the head"},
				form.Key{Name: "wall", Kind: form.Length, Required: true, Min: "0 mm", Help: "of the key, round the head"},
			)}},
		{Name: "spot", Kind: form.Subs, Required: true, Help: "spot faces", Table: &form.Table{
			Help: "A spot face", Keys: forHead(
				form.Key{Name: "over", Kind: form.Length, Required: true, Min: "0 mm", Help: "more across than the head and than its key"},
			)}},
		{Name: "counterbore", Kind: form.Subs, Help: "counterbores", Table: &form.Table{
			Help: "A counterbore", Keys: forHead(
				form.Key{Name: "across", Kind: form.Size, Required: true, Above: "0 mm", Help: "its diameter"},
				form.Key{Name: "below", Kind: form.Length, Required: true, Min: "0 mm", Help: "how much deeper than the head is high"},
			)}},
	},
}
