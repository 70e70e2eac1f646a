"""The table against the MusicXML 4.0 schema (W3C), as the package `musicxml` ships it."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from reedchord.musicxml.child_order import ORDER, insertion_index
from truth.musicxml_schema import schema_file

XS = "{http://www.w3.org/2001/XMLSchema}"
PARTICLES = {f"{XS}{name}" for name in ("sequence", "choice", "group", "element")}
SCHEMA = etree.parse(str(schema_file())).getroot()


def content(definition: etree._Element) -> etree._Element:
    """Return what a type or a group is made of, without its documentation and attributes."""
    (particle,) = (child for child in definition if child.tag in PARTICLES)
    return particle


def orders(particle: etree._Element) -> set[tuple[str, ...]]:
    """Return every order of children that a part of the schema allows.

    A choice gives one order for each alternative, but a choice that may come again gives one:
    its own. Repetitions are left out.
    """
    if particle.tag == f"{XS}element":
        return {(particle.get("name") or particle.get("ref"),)}
    if particle.tag == f"{XS}group":
        return orders(content(SCHEMA.find(f"{XS}group[@name='{particle.get('ref')}']")))
    parts = [orders(child) for child in particle.iterchildren() if child.tag in PARTICLES]
    if particle.tag == f"{XS}choice" and particle.get("maxOccurs", "1") == "1":
        return set().union(*parts)
    joined = (itertools.chain.from_iterable(each) for each in itertools.product(*parts))
    return {tuple(dict.fromkeys(names)) for names in joined}


def allowed_orders(parent: str) -> set[tuple[str, ...]]:
    (model,) = SCHEMA.xpath(
        "xs:complexType[@name=$name] | xs:element[@name=$name]/xs:complexType",
        name=parent,
        namespaces={"xs": XS[1:-1]},
    )
    return orders(content(model))


@pytest.mark.parametrize("parent", ORDER)
def test_the_table_names_the_children_of_the_schema(parent):
    assert set(ORDER[parent]) == set().union(*allowed_orders(parent))
    assert len(ORDER[parent]) == len(set(ORDER[parent]))


@pytest.mark.parametrize("parent", ORDER)
def test_the_table_keeps_every_order_of_the_schema(parent):
    for allowed in allowed_orders(parent):
        assert list(allowed) == sorted(allowed, key=ORDER[parent].index)


def test_a_note_may_be_built_in_several_ways():
    """The schema has four: grace, grace cue, cue and full notes, each of three kinds."""
    assert len(allowed_orders("note")) == 12


@given(st.data())
def test_children_added_in_any_order_end_in_the_order_of_the_schema(data):
    parent = data.draw(st.sampled_from(sorted(ORDER)))
    allowed = data.draw(st.sampled_from(sorted(allowed_orders(parent))))
    children: list[str] = []
    for tag in data.draw(st.permutations(allowed)):
        children.insert(insertion_index(parent, tag, children), tag)
    assert tuple(children) == allowed


def test_a_second_one_goes_behind_the_first():
    present = ["pitch", "duration", "voice", "type", "dot", "notations"]
    assert insertion_index("note", "dot", present) == 5
    assert insertion_index("note", "chord", present) == 0
    assert insertion_index("note", "listen", present) == 6


def test_strangers_are_passed_over():
    present = ["x-before", "pitch", "x-after", "voice"]
    assert insertion_index("note", "duration", present) == 2
    assert insertion_index("note", "chord", ["x-before", "pitch"]) == 0


@pytest.mark.parametrize(("parent", "child"), [("note", "clef"), ("bookmark", "note")])
def test_an_unknown_pair_is_our_own_fault(parent, child):
    with pytest.raises(ValueError, match=f"<{child}> in <{parent}> is not known"):
        insertion_index(parent, child, [])
