// Package form reads TOML files by key tables. One [Table] gives the loading,
// the errors (file, line, key, what was found, what would do, the nearest known
// key) and the reference that a reader sees.
//
// The TOML library is asked for a plain map only. Positions, with array
// indexes, and the text of each number come from a small scanner of our own,
// whose list of keys is checked against the library's: where they differ the
// file is refused.
package form
