// Command stopshort plans the milling of small parts, one cut at a time, and
// refuses any cut that would go too deep.
package main

import (
	"os"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }
