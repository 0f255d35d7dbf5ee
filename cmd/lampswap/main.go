// Command lampswap answers whether a warehouse or shop will still be bright enough after a lamp swap.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
