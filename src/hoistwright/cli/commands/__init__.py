"""One module a verb. Each has `HELP`, `arguments(parser)` and `run(args) -> exit code`."""
