"""Recordings as tones: partials, presence, comparison with a record."""
