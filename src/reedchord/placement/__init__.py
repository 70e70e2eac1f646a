"""Placements: sonorities at their places in a score."""
