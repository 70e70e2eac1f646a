"""What holds for every collection that goes out of the house and comes back."""

from __future__ import annotations

from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from property.test_sonority_property import sonorities
from reedchord.collection import Collection
from reedchord.collection_reading import parse_collection
from reedchord.exchange.cells import FORMS, cell_data, cell_text
from reedchord.exchange.collection_text import (
    collection_data,
    json_text,
    sonority_data,
    source_data,
    yaml_text,
)
from reedchord.exchange.csv_export import csv_text
from reedchord.exchange.csv_import import import_csv
from reedchord.sonority import Sonority


@st.composite
def collections(draw):
    """Return a collection whose records all cite sources that are described."""
    records, sources = {}, {}
    for sonority in draw(st.lists(sonorities(), min_size=1, max_size=3)):
        entry = sonority.source.entry
        if entry is None:
            continue
        known = sources.setdefault(entry.id, entry)
        citation = sonority.source.model_copy(update={"entry": known})
        records[sonority.id] = sonority.model_copy(update={"source": citation})
    return Collection(records, sources, "drawn")


# Making such records smaller and smaller takes minutes: a failure is shown as it was drawn.
SLOW = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.generate],
)


@SLOW
@given(collections(), st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]))
def test_records_go_through_a_spreadsheet_and_back(collection, encoding):
    assume(len(collection))
    back = import_csv(csv_text(collection).encode(encoding), "drawn.csv")
    assert dict(back.collection.sonorities) == dict(collection.sonorities)
    assert not back.skipped


@SLOW
@given(collections())
def test_records_go_through_our_own_files_and_back(collection):
    data = collection_data(
        map(source_data, collection.sources.values()), map(sonority_data, collection)
    )
    for text, name in ((yaml_text(data), "drawn.yaml"), (json_text(data), "drawn.json")):
        back = parse_collection(text, name)
        assert dict(back.sonorities) == dict(collection.sonorities)
        assert back.sources == collection.sources


@SLOW
@given(sonorities())
def test_every_field_goes_through_a_cell_and_back(sonority):
    data = Sonority.model_dump(sonority, mode="json", exclude_defaults=True)
    for field in data.keys() & FORMS.keys():
        assert cell_data(field, cell_text(field, data[field])) == data[field]
