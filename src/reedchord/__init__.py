"""Reedchord: saxophone multiphonics into scores that a given player can really play."""
