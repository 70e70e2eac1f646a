"""What a score sounds like in time: positions, tempo, dynamics, notes."""
