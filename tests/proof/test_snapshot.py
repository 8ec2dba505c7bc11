"""An issued proof is kept as it was, or refused."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.proof.fields import FieldNumber, ProofField
from cardsmith.proof.snapshot import DamagedProof, Snapshot, read_snapshot, write_snapshot

TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
FIELDS = st.builds(
    ProofField,
    kind=st.sampled_from(["title", "line", "step"]),
    at=st.integers(0, 99),
    place=TEXT,
    words=st.dictionaries(TEXT, TEXT, max_size=3),
    key=TEXT,
    part=TEXT,
    figures=st.lists(st.builds(FieldNumber, author=TEXT, us=TEXT, metric=TEXT), max_size=2).map(tuple),
)
SNAPSHOTS = st.builds(
    Snapshot,
    recipe=TEXT,
    number=st.integers(1, 99),
    date=st.dates().map(lambda day: day.isoformat()),
    version=TEXT,
    rests_on=TEXT,
    trials=st.lists(st.integers(1, 99), max_size=3).map(tuple),
    printed=st.lists(FIELDS, max_size=4).map(tuple),
    source=st.text(st.characters(exclude_categories=["Cs"]), max_size=80),
)
ONE = Snapshot(
    recipe="rye-thins",
    number=2,
    date="2026-06-02",
    version="ab" * 32,
    rests_on="6",
    trials=(1, 6),
    printed=(
        ProofField(kind="title", at=0, place="title", words={"text": "Rye thins"}),
        ProofField(
            kind="line",
            at=0,
            place="list: fine salt",
            words={"us": "¾ tsp", "metric": "4 g"},
            figures=(FieldNumber(author="4 g", us="¾ tsp", metric="4 g"),),
        ),
    ),
    source="title: Rye thins\n",
)


@given(SNAPSHOTS)
def test_what_is_kept_is_read_again_and_written_alike(one: Snapshot) -> None:
    data = write_snapshot(one)
    again = read_snapshot(data, "01.json", one.number)
    assert again == one
    assert write_snapshot(again) == data


def test_a_person_can_read_it() -> None:
    text = write_snapshot(ONE).decode()
    assert '"date": "2026-06-02"' in text
    assert '"us": "¾ tsp"' in text
    assert '"title: Rye thins"' in text


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("¾ tsp", "½ tsp", "edited after it was issued"),
        ('"date": "2026-06-02"', '"date": "2026-06-03"', "edited after"),
        ('"number": 2', '"number": 3', "edited after"),
        ('"source"', '"sauce"', "keys are not those of a proof"),
        ('"format": 1', '"format": 2', "keys are not those of a proof"),
        ("{", "", "not a complete JSON file"),
    ],
)
def test_an_edited_proof_is_refused(old: str, new: str, told: str) -> None:
    data = write_snapshot(ONE).decode().replace(old, new, 1).encode()
    with pytest.raises(DamagedProof, match=r"01\.json.*Nothing was changed") as fault:
        read_snapshot(data, "01.json", 2)
    assert told in str(fault.value)


@pytest.mark.parametrize("data", [b"", b"[]", b"null", b"\xff", b"[" * 100_000, write_snapshot(ONE)[:-40]])
def test_what_is_no_proof_is_refused(data: bytes) -> None:
    with pytest.raises(DamagedProof):
        read_snapshot(data, "01.json", 2)


def test_a_proof_under_another_number_is_refused() -> None:
    with pytest.raises(DamagedProof, match="proof 2 by its own words"):
        read_snapshot(write_snapshot(ONE), "03.json", 3)


def test_sealed_nonsense_is_refused_not_a_traceback() -> None:
    """A file sealed by some other hand, with a figure where a list belongs."""
    told = json.loads(write_snapshot(ONE))
    from cardsmith.proof.snapshot import _seal  # noqa: PLC0415

    for key, value in (("printed", 3), ("trials", ["x"]), ("date", "yesterday"), ("source", 5)):
        broken = {**told, key: value}
        broken["seal"] = _seal(broken)
        with pytest.raises(DamagedProof):
            read_snapshot(json.dumps(broken).encode(), "02.json", 2)
