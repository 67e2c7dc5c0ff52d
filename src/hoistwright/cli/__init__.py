"""The command line: the trade's verbs, one module each under `commands/`."""
