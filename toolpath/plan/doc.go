// Package plan holds what recipes share on the way to a plan: the target's
// grid, the step-down, and the order of operations by tool.
package plan
