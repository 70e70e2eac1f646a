import io
import struct
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.errors import InputError
from reedchord.musicxml import packing
from reedchord.musicxml.container import open_score, stale_companions
from reedchord.musicxml.packing import new_package, repack
from truth.real_scores import NAMED
from truth.score_text import root_file

SCORE = b'<?xml version="1.0"?><score-partwise/>'
CONTAINER = "META-INF/container.xml"


def listing(*rootfiles: str, root: str = "<container>") -> bytes:
    files = "".join(f"<rootfile {attributes}/>" for attributes in rootfiles)
    return f"{root}<rootfiles>{files}</rootfiles></container>".encode()


def package(
    entries: dict[str, bytes],
    rootfile: str | None = 'full-path="score.xml"',
    method: int = zipfile.ZIP_DEFLATED,
) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", method) as archive:
        if rootfile is not None:
            archive.writestr(CONTAINER, listing(rootfile))
        for name, content in entries.items():
            archive.writestr(name, content)
    return packed.getvalue()


def refusal(data: bytes) -> InputError:
    with pytest.raises(InputError) as caught:
        open_score(data)
    return caught.value


def test_a_plain_document_is_its_own_score():
    file = open_score(SCORE)
    assert (file.data, file.package, file.notes) == (SCORE, None, ())
    assert repack(file, SCORE + b"\n") == SCORE + b"\n"
    assert stale_companions(file) == ()


PACKED = ["utf16 quartet", "bundled parts", "mxl with junk", "mxl with pdf", "cr piano"]


@pytest.mark.parametrize("name", PACKED)
def test_real_packages_open_at_their_score(name):
    data = NAMED[name].read_bytes()
    file = open_score(data)
    assert file.data == root_file(data)
    assert file.notes == ()
    assert repack(file, file.data) == data


def entries(data: bytes) -> list[tuple[object, ...]]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        return [
            (
                info.filename,
                info.compress_type,
                info.date_time,
                info.external_attr,
                info.create_system,
                info.comment,
                info.extra,
                archive.read(info),
            )
            for info in archive.infolist()
        ]


@pytest.mark.parametrize("name", PACKED)
def test_only_the_score_of_a_package_changes(name):
    data = NAMED[name].read_bytes()
    file = open_score(data)
    repacked = repack(file, SCORE)
    expected = [
        (*entry[:-1], SCORE if entry[-1] == file.data else entry[-1]) for entry in entries(data)
    ]
    assert entries(repacked) == expected
    assert open_score(repacked).data == SCORE


def test_bundled_parts_and_renderings_go_stale():
    quartet = open_score(NAMED["bundled parts"].read_bytes())
    assert stale_companions(quartet) == tuple(f"p{number}.musicxml" for number in range(1, 5))
    printed = open_score(NAMED["mxl with pdf"].read_bytes())
    assert stale_companions(printed) == ("20a-Compressed-MusicXML.pdf",)
    junk = open_score(NAMED["mxl with junk"].read_bytes())
    assert stale_companions(junk) == ()


def test_mimetype_comes_first_and_stored_and_comments_stay():
    packed = io.BytesIO(package({"score.xml": SCORE}))
    with zipfile.ZipFile(packed, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("mimetype", "application/vnd.recordare.musicxml")
        archive.comment = b"from the library"
    repacked = repack(open_score(packed.getvalue()), SCORE + b"\n")
    with zipfile.ZipFile(io.BytesIO(repacked)) as archive:
        assert archive.namelist() == ["mimetype", CONTAINER, "score.xml"]
        assert archive.infolist()[0].compress_type == zipfile.ZIP_STORED
        assert archive.comment == b"from the library"


@pytest.mark.parametrize(
    "container_xml",
    [
        listing('full-path="x.pdf" media-type="application/pdf"', 'full-path="a/b.xml"'),
        listing('full-path="./a/b.xml" media-type="application/vnd.recordare.musicxml+xml"'),
        listing('full-path="a/b.xml"', root='<container xmlns="urn:of:containers">'),
        listing('full-path="a/b.xml"').decode().encode("utf-16"),
    ],
)
def test_the_container_decides(container_xml):
    data = package({CONTAINER: container_xml, "other.xml": b"<x/>", "a/b.xml": SCORE}, None)
    file = open_score(data)
    assert (file.data, file.notes) == (SCORE, ())
    assert file.package is not None
    assert file.package.root_name == "a/b.xml"


@pytest.mark.parametrize("rootfile", [None, 'full-path="x.pdf" media-type="application/pdf"'])
def test_without_a_listing_the_only_score_is_used_and_said(rootfile):
    junk = {"__MACOSX/._song.xml": b"\0", "x.pdf": b"%PDF", "META-INF/more.xml": b"<x/>"}
    file = open_score(package({**junk, "song.musicxml": SCORE}, rootfile))
    assert file.data == SCORE
    assert len(file.notes) == 1
    assert "song.musicxml is the only one" in file.notes[0]


def test_without_a_listing_two_scores_are_one_too_many():
    error = refusal(package({"a.xml": SCORE, "b.musicxml": SCORE}, None))
    assert error.code == "mxl.root"
    assert "a.xml, b.musicxml" in str(error)


def test_a_missing_score_is_told_with_the_nearest_name():
    error = refusal(package({"Score.xml": SCORE}))
    assert error.code == "mxl.root"
    assert "Did you mean Score.xml?" in str(error)


def test_a_broken_listing_is_told():
    entity = b"<!DOCTYPE container [<!ENTITY a SYSTEM 'file:///etc/hostname'>]><container/>"
    for listing_xml in (b"<container>", entity, b""):
        error = refusal(package({CONTAINER: listing_xml, "score.xml": SCORE}, None))
        assert error.code == "mxl.container"


@pytest.mark.parametrize(
    "name",
    ["../score.xml", "a/../../b", "..", "/etc/x", "\\x", "a\\..\\b", "C:x", "c:/x", "a/.."],
)
def test_names_outside_the_package_are_refused(name):
    assert refusal(package({"score.xml": SCORE, name: b"x"})).code == "mxl.name"


def test_two_dots_in_a_name_are_fine():
    assert open_score(package({"score.xml": SCORE, "a..b/Take ..5.txt": b""})).data == SCORE


def test_names_with_a_hidden_end_are_refused():
    data = package({"score.xml": SCORE, "song.xmlQ.exe": b""})
    assert refusal(data.replace(b"song.xmlQ", b"song.xml\0")).code == "mxl.name"


def test_duplicate_names_are_refused():
    data = package({"score.xml": SCORE, "scorf.xml": b"<x/>"}).replace(b"scorf", b"score")
    assert refusal(data).code == "mxl.duplicate"


def with_flag(data: bytes, directory_offset: int, flag: int) -> bytes:
    """Set one 16-bit field of the first central header (APPNOTE.TXT, 4.3.12)."""
    at = data.index(b"PK\x01\x02") + directory_offset
    return data[:at] + struct.pack("<H", flag) + data[at + 2 :]


def test_encrypted_entries_are_refused():
    assert refusal(with_flag(package({"score.xml": SCORE}), 8, 1)).code == "mxl.encrypted"


def test_other_ways_of_packing_are_refused():
    data = package({"score.xml": SCORE}, method=zipfile.ZIP_BZIP2)
    assert refusal(data).code == "mxl.method"


def test_too_many_entries_are_refused():
    names = {f"{number}.txt": b"" for number in range(1_999)}
    assert refusal(package({"score.xml": SCORE, **names})).code == "mxl.entries"


def test_bombs_are_refused():
    bomb = package({"score.xml": bytes(30_000_000)})
    assert len(bomb) < 40_000
    assert refusal(bomb).code == "mxl.ratio"
    beside = package({"score.xml": SCORE, "picture.png": bytes(30_000_000)})
    assert refusal(beside).code == "mxl.ratio"


def test_a_bomb_that_lies_about_its_size_is_stopped():
    bomb = package({"score.xml": bytes(30_000_000)})
    lie = bomb.replace(struct.pack("<I", 30_000_000), struct.pack("<I", 1_000))
    assert lie != bomb
    assert refusal(lie).code == "mxl.broken"


@pytest.mark.parametrize("limit", ["MAX_ENTRY_BYTES", "MAX_TOTAL_BYTES"])
def test_sizes_are_limited(monkeypatch, limit):
    monkeypatch.setattr(packing, limit, 1_000)
    data = package({"score.xml": SCORE, "picture.png": bytes(1_001)})
    assert refusal(data).code == "mxl.size"


def test_a_package_in_a_package_is_refused():
    assert refusal(package({"score.xml": new_package(SCORE)})).code == "mxl.nested"


def test_an_empty_package_is_refused():
    assert refusal(package({}, None)).code == "mxl.root"


@given(st.data())
def test_damage_never_raises_anything_but_input_errors(data):
    whole = NAMED["cr piano"].read_bytes()
    if data.draw(st.booleans(), label="cut"):
        damaged = whole[: data.draw(st.integers(4, len(whole) - 1))]
    else:
        at = data.draw(st.integers(max(0, len(whole) - 400), len(whole) - 1))
        damaged = whole[:at] + bytes([data.draw(st.integers(0, 255))]) + whole[at + 1 :]
    code = "mxl.is-fine"
    try:
        repack(open_score(damaged), SCORE)
    except InputError as error:
        code = error.code
    assert code.startswith("mxl.")


def test_damage_beside_the_score_is_told_when_it_would_be_copied():
    data = package({"score.xml": SCORE, "words.txt": b"unpacked"}, method=zipfile.ZIP_STORED)
    file = open_score(data.replace(b"unpacked", b"tampered"))
    with pytest.raises(InputError, match=r"words\.txt") as caught:
        repack(file, SCORE + b"\n")
    assert caught.value.code == "mxl.broken"


def test_a_new_package_is_laid_out_as_the_standard_wants():
    """MusicXML 4.0, "Compressed .mxl files": mimetype first, stored, nothing before its text."""
    data = new_package(SCORE, "Étude & fugue.musicxml")
    assert data[30:72] == b"mimetypeapplication/vnd.recordare.musicxml"
    assert data == new_package(SCORE, "Étude & fugue.musicxml")
    file = open_score(data)
    assert (file.data, file.notes) == (SCORE, ())
    assert file.package is not None
    assert file.package.names == ("mimetype", CONTAINER, "Étude & fugue.musicxml")
    assert new_package(repack(file, SCORE)) == new_package(data)


@pytest.mark.parametrize("name", ["", "/score.xml", "..\\score.xml"])
def test_a_new_package_takes_no_unsafe_name(name):
    with pytest.raises(ValueError, match="no name for a file"):
        new_package(SCORE, name)
