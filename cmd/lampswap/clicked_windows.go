package main

import "github.com/inconshreveable/mousetrap"

// doubleClicked tells that a desktop started the command, not somebody at a prompt.
func doubleClicked() bool { return mousetrap.StartedByExplorer() }
