"""Hand-made scores of one chord, for proving that the harness works and can fail."""


def chord_score(*tones: tuple[str, str, int], transpose: str = "", extra: str = "") -> bytes:
    """Return a valid score of one whole-note chord; a tone is step, alter as text, octave."""
    notes = "".join(
        f"<note>{'<chord/>' if place else ''}<pitch><step>{step}</step>"
        f"{f'<alter>{alter}</alter>' if alter else ''}<octave>{octave}</octave></pitch>"
        f"<duration>4</duration><voice>1</voice><type>whole</type>{extra}</note>"
        for place, (step, alter, octave) in enumerate(tones)
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN"'
        ' "http://www.musicxml.org/dtds/partwise.dtd">\n'
        '<score-partwise version="4.0"><part-list><score-part id="P1">'
        "<part-name>Alto Saxophone</part-name></score-part></part-list>"
        '<part id="P1"><measure number="1"><attributes><divisions>1</divisions>'
        "<time><beats>4</beats><beat-type>4</beat-type></time>"
        f"{transpose}</attributes>{notes}</measure></part></score-partwise>\n"
    ).encode()


C_MAJOR = (("C", "", 4), ("E", "", 4), ("G", "", 4))
ALTO = "<transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>"


def as_utf16(data: bytes) -> bytes:
    """Return the same score in UTF-16 with a BOM, declared so."""
    return data.decode().replace('encoding="UTF-8"', 'encoding="UTF-16"').encode("utf-16")
