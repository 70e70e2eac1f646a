"""Truth from beyond the project: the MusicXML schema, real scores, and other readers of scores.

Nothing here imports reedchord. Other tests import these modules as `truth.engraving` and so on.
"""
