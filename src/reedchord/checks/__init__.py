"""A score held against what its sonorities and its readers can do: findings, with remedies."""
