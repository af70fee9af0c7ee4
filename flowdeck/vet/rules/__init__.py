"""The rules, one a module. The docstring of each is its manual; `flowdeck.vet.book` lists them all."""
