"""New fingerings from known ones, to be tried."""
