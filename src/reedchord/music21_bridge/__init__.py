"""Everything that music21 does for us; it is imported only here, on demand."""
