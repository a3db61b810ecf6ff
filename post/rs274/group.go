package rs274

// Group is a modal group: of its members only one may stand on a line, and in
// all but [NonModal] the last one given stays in force.
type Group uint8

// The groups of NISTIR 6556, section 3.4, table 4.
const (
	NoGroup      Group = iota // no such word
	NonModal                  // G4 G10 G28 G30 G53 G92 G92.1 to G92.3
	Motion                    // G0 to G3 G38.2 G80 to G89
	Plane                     // G17 G18 G19
	Distance                  // G90 G91
	FeedMode                  // G93 G94
	Units                     // G20 G21
	RadiusComp                // G40 G41 G42
	LengthOffset              // G43 G49
	ReturnLevel               // G98 G99
	WorkSystem                // G54 to G59, G59.1 to G59.3
	PathControl               // G61 G61.1 G64
	Stopping                  // M0 M1 M2 M30 M60
	ToolChange                // M6
	Spindle                   // M3 M4 M5
	Coolant                   // M7 M8 M9
	Overrides                 // M48 M49
	GroupCount                // how many there are
)

var groupsOfG = [1000]Group{
	40: NonModal, 100: NonModal, 280: NonModal, 300: NonModal, 530: NonModal,
	920: NonModal, 921: NonModal, 922: NonModal, 923: NonModal,
	0: Motion, 10: Motion, 20: Motion, 30: Motion, 382: Motion,
	800: Motion, 810: Motion, 820: Motion, 830: Motion, 840: Motion,
	850: Motion, 860: Motion, 870: Motion, 880: Motion, 890: Motion,
	170: Plane, 180: Plane, 190: Plane,
	900: Distance, 910: Distance,
	930: FeedMode, 940: FeedMode,
	200: Units, 210: Units,
	400: RadiusComp, 410: RadiusComp, 420: RadiusComp,
	430: LengthOffset, 490: LengthOffset,
	980: ReturnLevel, 990: ReturnLevel,
	540: WorkSystem, 550: WorkSystem, 560: WorkSystem, 570: WorkSystem,
	580: WorkSystem, 590: WorkSystem, 591: WorkSystem, 592: WorkSystem, 593: WorkSystem,
	610: PathControl, 611: PathControl, 640: PathControl,
}

var groupsOfM = [100]Group{
	0: Stopping, 1: Stopping, 2: Stopping, 30: Stopping, 60: Stopping,
	6: ToolChange,
	3: Spindle, 4: Spindle, 5: Spindle,
	7: Coolant, 8: Coolant, 9: Coolant,
	48: Overrides, 49: Overrides,
}

// GroupOfG is the group of a G word by its number in tenths (G38.2 is 382);
// [NoGroup] where there is no such word.
func GroupOfG(tenths int) Group {
	if tenths < 0 || tenths >= len(groupsOfG) {
		return NoGroup
	}
	return groupsOfG[tenths]
}

// GroupOfM is the group of an M word; [NoGroup] where there is no such word.
func GroupOfM(number int) Group {
	if number < 0 || number >= len(groupsOfM) {
		return NoGroup
	}
	return groupsOfM[number]
}
