"""Sonorities in and out: spreadsheets, reference lists, files that are joined or added to."""
