// Package recipe turns the cuts of a job into a plan, one file for each recipe:
// its key table and its expansion. [Plan] drives them and adds the limits that
// every cut has: bores, outside, floor, packing, and what holds the part.
//
// A recipe never judges. It aims at its figures on the safe side of the
// target's grid; the judge then holds every limit against what was written.
package recipe
