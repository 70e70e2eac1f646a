"""Sonorities and scores as sound, to hear and to practise."""
