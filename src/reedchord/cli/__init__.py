"""The command line: one file a command, nothing decided here."""
