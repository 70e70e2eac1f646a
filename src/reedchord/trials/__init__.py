"""What one player and set-up really did: set-ups, logs of trials, and what follows."""
