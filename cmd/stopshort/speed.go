package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/machines"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/trade"
)

// atWork is what speed is asked.
type atWork struct {
	material, kind, madeOf string
	cutter                 measure.Length
	flutes                 int // nought where none are given
	surface                measure.SurfaceSpeed
	turns                  measure.Speed
	feed                   measure.Feed
	machine                *machines.Machine
}

func speedCommand() *cobra.Command {
	var material, cutter, machine, speed, feed, kind, madeOf string
	var flutes int
	c := &cobra.Command{
		Use:   "speed --material NAME --cutter DIAMETER | --speed SPEED --cutter DIAMETER",
		Short: "say how fast a cutter turns and is fed, and where each figure is from",
		Long: `speed gives what the handbook has for a cutter in a material: the speed to start
with, the range that is printed, feed, bite of one tooth, steps. With --machine the
speed is kept to what the machine has, rounded down, and the feed goes with it.
--speed is a surface speed (25 m/min, 80 ft/min) or the spindle's (600 rpm) and goes
before the handbook's; --feed is judged by the bite that it gives a tooth.`,
		Args: none,
		RunE: func(c *cobra.Command, args []string) error {
			given := c.Flags().Changed
			q := atWork{material: material, kind: kind, madeOf: madeOf, flutes: flutes}
			var err error
			switch {
			case !given("cutter"):
				return errors.New("--cutter is missing: give its diameter, as --cutter \"6 mm\"")
			case !given("material") && !given("speed"):
				return errors.New("--material or --speed is missing: give one of them, as --material brass")
			case kind != "mill" && kind != "drill" && kind != "saw":
				return fmt.Errorf("--kind %q: write mill, drill or saw", kind)
			case kind == "saw" && madeOf != "HSS" && given("made-of"):
				return errors.New("--made-of: the handbook's saws are of HSS: leave it out")
			case given("flutes") && (flutes < 1 || flutes > 400):
				return fmt.Errorf("--flutes %d: it must be from 1 to 400", flutes)
			}
			if kind == "saw" && !given("flutes") {
				q.flutes = 0
			}
			if q.cutter, err = diameterOf(cutter, kind); err != nil {
				return fmt.Errorf("--cutter: %w", err)
			}
			if given("speed") {
				if q.surface, q.turns, err = speedOf(speed); err != nil {
					return fmt.Errorf("--speed: %w", err)
				}
			}
			if given("feed") {
				if q.feed, err = measure.ParseFeed(feed, measure.NoUnit); err != nil {
					return fmt.Errorf("--feed: %w", err)
				}
				if q.feed == 0 {
					return fmt.Errorf("--feed %s: it must be more than nought", feed)
				}
			}
			if given("machine") {
				if q.machine, err = machines.Find(machine); err != nil {
					return err
				}
			}
			return q.tell(c)
		},
	}
	f := c.Flags()
	f.StringVar(&material, "material", "", "what is cut, by its name in the trade")
	f.StringVar(&cutter, "cutter", "", "the cutter's diameter; a drill's name too")
	f.StringVar(&kind, "kind", "mill", "mill, drill or saw")
	f.StringVar(&madeOf, "made-of", "HSS", "HSS or carbide")
	f.IntVar(&flutes, "flutes", 2, "flutes of a mill, teeth of a saw")
	f.StringVar(&speed, "speed", "", "a speed instead of the handbook's: 25 m/min, 80 ft/min, 600 rpm")
	f.StringVar(&feed, "feed", "", "a feed to judge, for that speed")
	f.StringVar(&machine, "machine", "", "machine's name or file")
	return c
}

func diameterOf(text, kind string) (measure.Length, error) {
	if kind == "drill" {
		d, err := trade.DrillNamed(text)
		return d.Diameter, err
	}
	d, err := measure.ParseSize(text, measure.NoUnit)
	switch {
	case err != nil:
		return 0, err
	case d <= 0 || d > measure.Metre:
		return 0, fmt.Errorf("%s is no cutter: it must be more than nought, up to 1 m", d)
	}
	return d, nil
}

// speedOf reads a surface speed or one of the spindle.
func speedOf(text string) (v measure.SurfaceSpeed, n measure.Speed, err error) {
	if strings.Contains(text, "/") {
		v, err = measure.ParseSurface(text)
	} else if strings.Contains(text, "rpm") {
		n, err = measure.ParseSpeed(text)
	} else {
		return 0, 0, fmt.Errorf("%q has no unit: write m/min or ft/min for the edge's speed, or rpm for the spindle's", oneLine(cutTo(text, 40)))
	}
	if err == nil && v == 0 && n == 0 {
		err = fmt.Errorf("%s: it must be more than nought", text)
	}
	return v, n, err
}
