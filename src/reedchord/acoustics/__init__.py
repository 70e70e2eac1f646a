"""Frequencies against each other: beats, which are facts, and roughness, which is a model's."""
