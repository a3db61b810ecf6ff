package machines

import "stopshort/toolpath/form"

// Kinds are the kinds of machines, and ZSources what can set Z on one.
var (
	Kinds    = []string{"mill", "lathe"}
	ZSources = []string{"head", "knee", "quill", "saddle"}
)

// Tables is the key table of a machine file. The table of each axis is the
// same: [x], [y], [z].
func Tables() *form.Table {
	return &form.Table{
		Help: "One machine: what it can do, never what it is called in a shop",
		Keys: []form.Key{
			{Name: "title", Kind: form.Text, Says: "the file's name", Help: "what sort of machine it is"},
			{Name: "kind", Kind: form.Word, Required: true, Choices: Kinds, Help: "a lathe carries the work on a vertical slide and the cutter in its spindle"},
			{Name: "units", Kind: form.Word, Required: true, Choices: []string{"mm", "in"}, Help: "what its dials or its programs speak, and the unit of bare numbers"},
			{Name: "stiffness", Kind: form.Word, Choices: []string{"light", "medium", "rigid"}, Default: "light", Help: "how much cut it bears"},
			{Name: "depth_by", Kind: form.Word, Required: true, Choices: ZSources, Help: "what sets Z; on a lathe the saddle"},
			{Name: "x", Kind: form.Sub, Required: true, Table: axisTable, Help: "the slide to the right and left"},
			{Name: "y", Kind: form.Sub, Required: true, Table: axisTable, Help: "the slide away from the operator and back; on a lathe the vertical slide"},
			{Name: "z", Kind: form.Sub, Required: true, Table: axisTable, Help: "the slide that sets the depth"},
			{Name: "second_z", Kind: form.Sub, Table: secondTable, Help: "a second wheel that sets Z, such as a quill that drills beside a knee"},
			{Name: "mill_by", Kind: form.Word, Choices: ZSources, Says: "the one there is", Help: "what sets Z for milling, where there are two"},
			{Name: "drill_by", Kind: form.Word, Choices: ZSources, Says: "the one there is", Help: "what sets Z for drilling, where there are two"},
			{Name: "round_column", Kind: form.Flag, Help: "the head slides on a round column: moving it loses X and Y"},
			{Name: "rotary_table", Kind: form.Sub, Table: rotaryTable, Help: "a rotary table, of a mill that is turned by hand"},
			{Name: "profile_by", Kind: form.Word, Choices: []string{"nibbling", "rotary table"}, Default: "nibbling", Help: "how an outline is cut by hand, where the job does not say"},
			{Name: "readout", Kind: form.Sub, Table: readoutTable, Help: "a readout of the slides"},
			{Name: "stop", Kind: form.Sub, Table: stopTable, Help: "the depth stop; without it there is none"},
			{Name: "spindle", Kind: form.Sub, Required: true, Table: spindleTable, Help: "the speeds the spindle has"},
			{Name: "feeds", Kind: form.Sub, Required: true, Table: feedsTable, Help: "rates of travel; by hand, what an arm keeps up"},
			{Name: "errors", Kind: form.Sub, Required: true, Table: errorsTable, Help: "what a position may be out by, each way, share by share"},
			{Name: "controller", Kind: form.Sub, Table: controllerTable, Help: "what runs a program; without it the machine is turned by hand"},
		},
	}
}

var axisTable = &form.Table{
	Help: "One slide with its screw",
	Keys: axisKeys,
}

var axisKeys = []form.Key{
	{Name: "wheel", Kind: form.Text, Help: "what the operator turns, and how it must stand; needed where there is a dial"},
	{Name: "travel", Kind: form.Length, Required: true, Above: "0 mm", Max: "10000 mm", Help: "how far it goes from end to end"},
	{Name: "lead", Kind: form.Lead, Help: "how far one turn of the wheel moves it, such as \"8 TPI\" or \"2.5 mm\"; none where no wheel is used"},
	{Name: "lines", Kind: form.Number, Above: "0", Max: "2000", Help: "lines of the dial for one turn; may be a half, such as 62.5"},
	{Name: "clockwise", Kind: form.Word, Choices: []string{"+", "-"}, Help: "which way the cutter goes over the part when the wheel is turned clockwise"},
	{Name: "backlash", Kind: form.Length, Required: true, Min: "0 mm", Max: "5 mm", Help: "play between screw and nut"},
	{Name: "half_lines", Kind: form.Flag, Help: "the eye can set half a line"},
	{Name: "numbers", Kind: form.Word, Choices: []string{"rise", "fall"}, Default: "rise", Help: "what the dial's numbers do when the wheel is turned clockwise"},
	{Name: "shows", Kind: form.Word, Choices: []string{"travel", "diameter"}, Default: "travel", Help: "a dial that shows diameters counts twice what the slide moves"},
	{Name: "line", Kind: form.Length, Above: "0 mm", Max: "5 mm", Help: "what one line is called; where the screw gives another figure, go_by must say which is right"},
	{Name: "go_by", Kind: form.Word, Choices: []string{"screw", "dial"}, Help: "which is right where lead and lines do not give what a line is called: an inch dial on a metric screw goes by its screw"},
	{Name: "moves", Kind: form.Word, Choices: []string{"work", "cutter"}, Says: "the work; head and quill the cutter", Help: "what the wheel moves"},
	{Name: "approach", Kind: form.Word, Choices: []string{"+", "-"}, Says: "the way of a clockwise turn; Z always downwards", Help: "which way the cutter goes over the part when a position is met, so that the play stays on one side"},
	{Name: "clockwise_word", Kind: form.Text, Says: "clockwise", Help: "what turning clockwise is called, such as \"pull down\""},
	{Name: "anticlockwise_word", Kind: form.Text, Says: "anticlockwise", Help: "what turning the other way is called"},
}

var secondTable = &form.Table{
	Help: "A second wheel that sets Z: the keys of [z], and what it is",
	Keys: append([]form.Key{
		{Name: "by", Kind: form.Word, Required: true, Choices: []string{"head", "knee", "quill"}, Help: "what it moves"},
	}, axisKeys...),
}

var readoutTable = &form.Table{
	Help: "A readout of the slides",
	Keys: []form.Key{
		{Name: "axes", Kind: form.Word, Choices: []string{"xyz", "xy", "xz", "yz", "x", "y", "z"}, Default: "xyz", Help: "what it reads"},
		{Name: "resolution", Kind: form.Length, Required: true, Above: "0 mm", Max: "1 mm", Help: "its last figure"},
	},
}

var stopTable = &form.Table{
	Help: "The depth stop",
	Keys: []form.Key{
		{Name: "kind", Kind: form.Word, Required: true, Choices: []string{"nut", "dial", "none"}, Help: "a nut on a rod halts the cut; with dial the Z dial is read and nothing halts it"},
		{Name: "step", Kind: form.Length, Above: "0 mm", Max: "5 mm", Help: "a nut's finest setting"},
		{Name: "on", Kind: form.Word, Choices: ZSources, Says: "the quill where there is one, else depth_by", Help: "what the nut halts"},
	},
}

var spindleTable = &form.Table{
	Help: "The spindle: every speed from low to high, or a list of speeds",
	Keys: []form.Key{
		{Name: "low", Kind: form.Speed, Above: "0 rpm", Help: "slowest speed"},
		{Name: "high", Kind: form.Speed, Above: "0 rpm", Help: "fastest speed"},
		{Name: "speeds", Kind: form.Speeds, Above: "0 rpm", Help: "the only speeds it has, slowest first"},
	},
}

var feedsTable = &form.Table{
	Help: "Rates of travel",
	Keys: []form.Key{
		{Name: "low", Kind: form.Feed, Required: true, Above: "0 mm/min", Help: "slowest feed of a cut"},
		{Name: "high", Kind: form.Feed, Required: true, Above: "0 mm/min", Help: "fastest feed of a cut"},
		{Name: "down", Kind: form.Feed, Required: true, Above: "0 mm/min", Help: "fastest feed downwards"},
	},
}

// Every share is asked for: one that the machine does not have is written as
// nought, on purpose.
var errorsTable = &form.Table{
	Help: "What a position may be out by, each way; a share of nought is not counted",
	Keys: []form.Key{
		share("touch_z", "touching the face"),
		share("touch_xy", "picking up an edge or a bore"),
		share("setting", "reading a dial or a readout, or a step of the motor"),
		share("stop", "the repeat of the stop nut"),
		share("play", "drift of what is not locked"),
		rate("lead", "error of the screw over the length travelled"),
		rate("tilt", "the work out of level, over the length from the touching place"),
		share("run_out", "run-out of the cutter, on its radius"),
		share("bend", "deflection of the cutter, sideways"),
		share("place", "place of what an earlier set-up made"),
		share("diameter", "a bore that an earlier set-up made, on its radius"),
		{Name: "gauge", Kind: form.Length, Min: "0 mm", Max: "5 mm", Default: "0.02 mm", Help: "measuring at the machine, with a micrometer or a depth gauge"},
	},
}

func share(name, help string) form.Key {
	return form.Key{Name: name, Kind: form.Length, Required: true, Min: "0 mm", Max: "5 mm", Help: help}
}

func rate(name, help string) form.Key {
	return form.Key{Name: name, Kind: form.Rate, Required: true, Help: help}
}
