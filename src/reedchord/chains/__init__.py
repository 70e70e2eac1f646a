"""Chains as files: wishes that are read, and the plan that a chain becomes."""
