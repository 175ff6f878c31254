"""A programme written piece by piece has the bytes of its canonical text, whatever was written before."""

from __future__ import annotations

import json

from invented_squads import two_athletes
from speedloom.store.packing import packed, unpacked
from speedloom.store.writing import written
from speedloom.training.document import canonical, digest
from speedloom.training.programme import Node, Programme


def sound(programme: Programme) -> bool:
    return written(programme) == canonical(programme).encode()


def test_the_bytes_are_those_of_the_canonical_text() -> None:
    programme = two_athletes()
    assert sound(programme)
    assert sound(programme)
    assert sound(Programme.model_validate_json(canonical(programme)))


def test_steps_that_were_put_in_changed_and_left_out_are_written() -> None:
    programme = two_athletes()
    assert sound(programme)
    name, node = next(iter(programme.basis.items()))
    said = 'a "quoted" word, n\u00ed \u4f60, }{ and \\ with a\nbreak'
    others: list[dict[str, Node]] = [
        programme.basis | {"b7": node, "b70": node, "zz": node, "b7000001": node},
        programme.basis | {name: node.model_copy(update={"reason": said})},
        {key: one for key, one in programme.basis.items() if key != name},
        dict(reversed(programme.basis.items())),
        {},
    ]
    for basis in others:
        assert sound(programme.model_copy(update={"basis": basis}))
        assert sound(programme)


def test_a_week_and_a_brief_changed_in_a_copy_are_written() -> None:
    programme = two_athletes()
    assert sound(programme)
    own = programme.programmes[0]
    week = own.weeks[0].model_copy(update={"sessions": ()})
    changed = own.model_copy(update={"weeks": (week, *own.weeks[1:]), "next_ref": own.next_ref + 1})
    assert sound(programme.model_copy(update={"programmes": (changed, *programme.programmes[1:])}))
    bare = programme.brief.model_copy(update={"content": None, "digest": None})
    assert sound(programme.model_copy(update={"brief": bare, "programmes": (), "seed": 7}))


def test_what_lies_packed_is_the_document_and_keeps_its_digest() -> None:
    programme = two_athletes()
    again = unpacked(packed(programme), stamp=digest(programme))
    assert again == programme
    assert json.loads(canonical(again)) == json.loads(canonical(programme))
    assert digest(again) == digest(programme)
