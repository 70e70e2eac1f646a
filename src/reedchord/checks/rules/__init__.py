"""One rule a file: what it looks for, and small examples that pass and that fail."""
