"""Sonorities chosen for a wish: found, compared, strung into a playable sequence."""
