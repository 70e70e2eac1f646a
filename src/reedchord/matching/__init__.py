"""Which sonorities stand behind chords that are written already."""
