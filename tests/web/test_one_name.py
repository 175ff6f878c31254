"""The week, its forms and "why" name an exercise as the progression table above them does."""

from __future__ import annotations

import re

from living_site import LivingSite


def test_the_week_names_every_line_as_the_table_does(lived: LivingSite) -> None:
    page = lived.page(lived.here, {"athlete": "mila", "week": "7"})
    labels = set(re.findall(r'<th scope="row" class="of-\w+">([^<]+)</th>', page))
    week = page.partition('id="week"')[2]
    names = re.findall(r'<p class="dose"><strong>([^<]+)</strong>', week)
    assert names
    assert [name for name in names if not any(name in label for label in labels)] == []
    ref = re.search(r'<li id="([^"]+)" class="of-unloaded_sprint">', week)
    assert ref
    name = names[re.findall(r'<li id="([^"]+)" class="of-', week).index(ref[1])]
    assert name in lived.page(f"{lived.here}why/{ref[1]}/")
    assert name in lived.page(f"{lived.here}change/{ref[1]}/")
