package read

// Rule is why a line has a note.
type Rule uint8

// facts is what is said of a rule.
type facts struct {
	id      string
	classes Class
	kind    Kind
	text    string
}

// The rules. Those with a number are of the reference interpreter's own list of
// errors (NISTIR 6556 and its public source). Those of class A are of that
// class's public source and manual (release 1.1: a small controller, streamed to over
// serial, without cycles or a tool table); those of C are from memory, and those of D
// from its public manuals.
const (
	_ Rule = iota
	// The line and its words.
	LineTooLong
	LongForA
	RawForA
	LongForC
	NoSecondPercent
	NoEnd
	NoLineEnd
	Semicolon
	BadByte
	BadCharacter
	PercentInside
	ProgramNumber
	LineNumberInside
	LineNumberBig
	LineNumberBigForA
	LineNumberBad
	NestedComment
	OpenComment
	NumberMissing
	Twice
	TooManyM
	TwoOfGroupG
	TwoOfGroupM
	UnknownG
	UnknownM
	GTooBig
	MTooBig
	NegativeG
	NegativeM
	NotWhole
	Unused
	// Axis words and modes.
	NoAxes
	NoAxesArc
	NoMotion
	AxesWithG80
	TwoAxisCodes
	NoAxesG92
	HomeInG91
	MachineWithoutMotion
	CompPlane
	CompTwice
	CompHome
	CompMachine
	CompZX
	CompYZ
	CompUnits
	CompOffsets
	// Feed, speed, tool.
	FeedMissing
	ArcFeedMissing
	TimeFeedMissing
	TimeFeedMissingArc
	NegativeF
	NegativeS
	NegativeT
	NegativeH
	NegativeD
	NegativeP
	NegativeL
	ToolOverSlots
	OffsetOverSlots
	RadiusOverSlots
	ToolForA
	OffsetMissing
	DwellMissing
	// Arcs.
	NoCentre
	MixedArc
	CentreOffPlane
	NoEndXY
	NoEndZX
	NoEndYZ
	RadiiDiffer
	RadiiDifferForA
	RadiiDifferForD
	RadiiFar
	TinyArc
	RadiusNought
	RadiusTooSmall
	RadiusFull
	// Cycles.
	CycleR
	CycleRLow
	CycleZ
	CycleP
	CycleQ
	CycleQNought
	CycleLNought
	// Single classes.
	LetterForA
	CodeForA
	ByteForA
	SlashForA
	PercentForA
	LengthOffsetForA
	ParameterForA
	CommentForC
	CodesForC
	CycleForC
	CodeForC
	DwellForD
	G911ForR
	G901ForR
	G73ForR
	PathTolerance
	// What is not followed, or not all of it.
	Parameter
	Loop
	Code
	Comp
	Origin
	Home
	Rotary
	Probe
	MachinePlace
	FromUnknown
	ArcFromUnknown
	CutAtUnknown
	NoUnits
	UnclearMode
	OutOfReach
	TooLongToRead
	SlashMode
	OffsetAfterZ
	OffsetGone
	CyclePlane
	CycleFromUnknown
	CycleLong
	CycleReturn
	CycleMode
	DwellWithAxes
	// What is assumed.
	ModeAssumed
	UnitsAssumed
	OffsetAssumed
	OffsetOther
	ToolAssumed
	HighAssumed
	ReturnAssumed
	RoundingAssumed
	ReverseAssumed
	BehindEnd
	ruleCount
)

var rules = [ruleCount]facts{
	LineTooLong:       {"66", R | E, Finding, "the line is longer than 254 characters, its end counted"},
	LongForA:          {"A11", A, Finding, "more than 79 characters without blanks and comments"},
	RawForA:           {"A-line", A, Finding, "more than 127 characters, the line's end counted"},
	LongForC:          {"C-line", C, Finding, "more than 96 characters"},
	NoSecondPercent:   {"80", R | E, Finding, "the first line is a percent sign and no second one ends the program"},
	NoEnd:             {"81", R | E, Finding, "the text stops without M2, M30 or percent lines"},
	NoLineEnd:         {"A-end", A, Finding, "the last line has no end, and is not run"},
	Semicolon:         {"12", R, Finding, "a comment behind a semicolon"},
	BadByte:           {"12", R | A | E, Finding, "no plain character, in a comment"},
	BadCharacter:      {"12", dialect, NotFollowed, "begins no word"},
	PercentInside:     {"12", dialect, NotProved, "a percent sign that is not at the program's start or end"},
	ProgramNumber:     {"12", R | A, Finding, "a program's number"},
	LineNumberInside:  {"12", R | E, Finding, "a line number that is not at the start of its line"},
	LineNumberBig:     {"98", R | E, Finding, "a line number over 99999"},
	LineNumberBigForA: {"A-number", A, Finding, "a line number over 10000000"},
	LineNumberBad:     {"13", dialect, NotFollowed, "a line number without digits"},
	NestedComment:     {"132", dialect, NotFollowed, "a bracket within a comment"},
	OpenComment:       {"171", R | E, Finding, "a comment that is not closed on its line"},
	NumberMissing:     {"134", dialect, NotFollowed, "a letter without a number"},
	Twice:             {"102", dialect, NotFollowed, "twice on one line"},
	TooManyM:          {"163", R | E, Finding, "more than four M words on a line"},
	TwoOfGroupG:       {"168", dialect, NotFollowed, "beside another of its modal group"},
	TwoOfGroupM:       {"169", dialect, NotFollowed, "beside another of its modal group"},
	UnknownG:          {"173", dialect, NotFollowed, "not known"},
	UnknownM:          {"174", dialect, NotFollowed, "not known"},
	GTooBig:           {"84", dialect, NotFollowed, "over 99.9"},
	MTooBig:           {"100", dialect, NotFollowed, "over 99"},
	NegativeG:         {"124", dialect, NotFollowed, "below nought"},
	NegativeM:         {"127", dialect, NotFollowed, "below nought"},
	NotWhole:          {"135", dialect, NotFollowed, "not a whole number"},
	Unused:            {"", dialect, NotFollowed, "no code on its line uses it"},

	NoAxes:               {"6", R | E, Finding, "without X, Y or Z"},
	NoAxesArc:            {"6", dialect, Finding, "an arc without X, Y or Z: taken as a full circle where it has a centre"},
	NoMotion:             {"57", dialect, NotFollowed, "axis words and no motion in force: write G0 or G1"},
	AxesWithG80:          {"56", dialect, NotFollowed, "together with axis words"},
	TwoAxisCodes:         {"63", dialect, NotFollowed, "together with a motion, and both use axis words"},
	NoAxesG92:            {"5", dialect, NotProved, "without an axis word"},
	HomeInG91:            {"61", R | E, Finding, "in G91"},
	MachineWithoutMotion: {"120", dialect, NotFollowed, "without G0 or G1"},
	CompPlane:            {"53", R | E, Finding, "out of the XY plane"},
	CompTwice:            {"54", R | E, Finding, "while compensation is on"},
	CompHome:             {"60", R | E, Finding, "while compensation is on"},
	CompMachine:          {"62", R | E, Finding, "while compensation is on"},
	CompZX:               {"64", R | E, Finding, "while compensation is on"},
	CompYZ:               {"65", R | E, Finding, "while compensation is on"},
	CompUnits:            {"39", R | E, Finding, "while compensation is on"},
	CompOffsets:          {"38", R | E, Finding, "while compensation is on"},

	FeedMissing:        {"41", dialect, Finding, "a straight cut without a feed"},
	ArcFeedMissing:     {"43", dialect, Finding, "an arc without a feed"},
	TimeFeedMissing:    {"78", dialect, Finding, "a cut in G93 without F on its line"},
	TimeFeedMissingArc: {"79", dialect, Finding, "an arc in G93 without F on its line"},
	NegativeF:          {"123", dialect, Finding, "below nought"},
	NegativeS:          {"130", dialect, Finding, "below nought"},
	NegativeT:          {"131", dialect, Finding, "below nought"},
	NegativeH:          {"125", dialect, NotFollowed, "below nought"},
	NegativeD:          {"122", dialect, NotFollowed, "below nought"},
	NegativeP:          {"129", dialect, Finding, "below nought"},
	NegativeL:          {"126", dialect, NotFollowed, "below nought"},
	ToolOverSlots:      {"155", R | E, Finding, "over the number of slots"},
	OffsetOverSlots:    {"164", R | E, Finding, "over the number of slots"},
	RadiusOverSlots:    {"166", R | E, Finding, "over the number of slots"},
	ToolForA:           {"A-tool", A, Finding, "over 255"},
	OffsetMissing:      {"137", R | E, Finding, "without H"},
	DwellMissing:       {"72", dialect, Finding, "without P"},

	NoCentre:        {"147", dialect, NotFollowed, "an arc without a centre or a radius"},
	MixedArc:        {"101", dialect, NotFollowed, "a radius together with a centre"},
	CentreOffPlane:  {"", dialect, NotFollowed, "not in the arc's plane"},
	NoEndXY:         {"189", dialect, Finding, "an arc without X and Y: taken as a full turn"},
	NoEndZX:         {"190", dialect, Finding, "an arc without X and Z: taken as a full turn"},
	NoEndYZ:         {"193", dialect, Finding, "an arc without Y and Z: taken as a full turn"},
	RadiiDiffer:     {"152", R | B | E, Finding, "an arc's end is over 0.002 mm or 0.0002 in farther from its centre than its start, or nearer"},
	RadiiDifferForA: {"A33", A, Finding, "an arc's two radii differ by over 0.5 mm, or over 0.005 mm and 0.1 per cent"},
	RadiiDifferForD: {"D-arc", D, Finding, "an arc's two radii differ by over 0.005 mm and 0.1 per cent"},
	RadiiFar:        {"", 0, NotFollowed, "no reader agrees where an arc goes whose two radii differ so much"},
	TinyArc:         {"", 0, NotFollowed, "an arc so short that some readers take it for a full turn"},
	RadiusNought:    {"197", dialect, NotFollowed, "an arc whose radius is nought"},
	RadiusTooSmall:  {"7", dialect, NotFollowed, "the radius is too small to reach the arc's end"},
	RadiusFull:      {"69", dialect, NotFollowed, "an arc by its radius ends where it starts"},

	CycleR:       {"146", dialect | D, NotFollowed, "the first line of a cycle without R"},
	CycleRLow:    {"150", dialect | D, NotFollowed, "a cycle whose R is below its Z"},
	CycleZ:       {"195", dialect | D, NotFollowed, "the first line of a cycle without Z"},
	CycleP:       {"73", dialect | D, NotFollowed, "the first line of the cycle without P"},
	CycleQ:       {"143", dialect | D, NotFollowed, "the first line of the cycle without Q"},
	CycleQNought: {"128", dialect | D, NotFollowed, "Q is not above nought"},
	CycleLNought: {"42", dialect | D, NotFollowed, "L is nought"},

	LetterForA:       {"A20", A, Finding, "a letter that is not known"},
	CodeForA:         {"A20", A, Finding, "a code that is not known"},
	ByteForA:         {"A-byte", A, Finding, "acted on at once, also in a comment"},
	SlashForA:        {"A-slash", A, Finding, "the line always runs"},
	PercentForA:      {"A1", A, Finding, "a percent line"},
	LengthOffsetForA: {"A24", A, Finding, "together with a motion"},
	ParameterForA:    {"A1", A, Finding, "parameters and expressions are not known"},
	CommentForC:      {"C-comment", C, Finding, "a comment in brackets"},
	CodesForC:        {"C-codes", C, Finding, "more than one code on a line"},
	CycleForC:        {"C-cycle", C, Finding, "drilling cycles are mostly missing"},
	CodeForC:         {"C-code", C, Finding, "compensation and offsets are mostly missing"},
	DwellForD:        {"D-dwell", D, Finding, "a dwell that is not alone on its line"},
	G911ForR:         {"173", R, Finding, "not known"},
	G901ForR:         {"173", R | A, Finding, "not known"},
	PathTolerance:    {"140", R | A | B, Finding, "P beside G64"},
	G73ForR:          {"173", R | A, Finding, "not known"},

	Parameter:        {"", 0, NotFollowed, "a parameter or an expression"},
	Loop:             {"", 0, NotFollowed, "loops and subprograms"},
	Code:             {"", 0, NotFollowed, "what it does is not followed"},
	Comp:             {"", 0, NotProved, "cutter compensation: the path lies beside the one that is written"},
	Origin:           {"", 0, NotProved, "another zero than G54: no place is known in it"},
	Home:             {"", 0, NotProved, "goes to a place that the text does not say"},
	Rotary:           {"", 0, NotFollowed, "a turning axis"},
	Probe:            {"", 0, NotFollowed, "stops where it touches"},
	MachinePlace:     {"", 0, NotProved, "goes to a place counted from the machine's own zero"},
	FromUnknown:      {"", 0, NotProved, "an increment from a place that is not known"},
	ArcFromUnknown:   {"", 0, NotFollowed, "an arc from a place that is not known"},
	CutAtUnknown:     {"", 0, NotProved, "a cut at a height that is not known"},
	NoUnits:          {"", 0, NotProved, "neither G20 nor G21 was said"},
	UnclearMode:      {"", 0, NotProved, "a mode is not known since an earlier line"},
	OutOfReach:       {"", 0, NotProved, "over 100 m, or too many digits"},
	TooLongToRead:    {"", 0, NotFollowed, "the line is too long to be read"},
	SlashMode:        {"", 0, NotProved, "a line that a switch may leave out changes a mode"},
	OffsetAfterZ:     {"", 0, NotProved, "the length offset comes after moves in Z: their height is not of the same zero"},
	OffsetGone:       {"", 0, NotProved, "a move in Z after the length offset was taken away"},
	CyclePlane:       {"", 0, NotFollowed, "a cycle out of the XY plane"},
	CycleFromUnknown: {"", 0, NotFollowed, "a cycle from a height that is not known"},
	CycleLong:        {"", 0, NotFollowed, "a cycle of more than 10000 moves"},
	CycleReturn:      {"", 0, NotProved, "readers differ on the height to return to after G99 in one series of holes"},
	CycleMode:        {"", 0, NotProved, "readers differ on what a cycle keeps when the unit or G90 and G91 change within it"},
	DwellWithAxes:    {"", 0, NotFollowed, "a dwell together with axis words and no motion word"},

	ModeAssumed:     {"", 0, Assumed, "not said, and taken as in force"},
	UnitsAssumed:    {"", 0, Assumed, "the program does not say its units"},
	OffsetAssumed:   {"", 0, Assumed, "the length offset is right for the tool that is in"},
	OffsetOther:     {"", 0, Assumed, "not the number of the tool that is in: its length offset is right for that one all the same"},
	ToolAssumed:     {"", 0, Assumed, "each tool is set to the same zero in Z"},
	HighAssumed:     {"", 0, Assumed, "the cutter starts high enough to cross"},
	ReturnAssumed:   {"", 0, Assumed, "not said, and taken as in force: back to the height before the cycle"},
	RoundingAssumed: {"", 0, Assumed, "corners may be rounded, inside of them"},
	ReverseAssumed:  {"", 0, Assumed, "the cutter is made to turn anticlockwise"},
	BehindEnd:       {"", 0, Assumed, "what stands behind the program's end is not run"},
}
