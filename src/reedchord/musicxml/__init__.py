"""MusicXML scores: read safely, queried as a tree, edited as text."""
