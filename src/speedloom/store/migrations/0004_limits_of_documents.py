"""Limits that so far only a programme's document held are kept with the squad's own, and can be lifted."""

import json
from collections.abc import Iterable, Mapping
from hashlib import sha256
from typing import Any

from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.utils import timezone

from speedloom.store.packing import plain_text
from speedloom.training.athlete import Restriction
from speedloom.training.document import canonical

BY = "speedloom"


def adopt(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    revisions = apps.get_model("store", "ProgrammeRevision").objects.using(schema_editor.connection.alias)
    people = dict(apps.get_model("store", "Person").objects.values_list("login", "pk"))
    newest: dict[int, Any] = {}
    for row in revisions.defer("document").order_by("programme_id", "number"):
        newest[row.programme_id] = row.pk
    for pk in newest.values():
        row = revisions.select_related("programme").get(pk=pk)
        content = json.loads(plain_text(row.document)).get("brief", {}).get("content") or {}
        for athlete in content.get("athletes", ()):
            _adopt(apps, row.programme, athlete["ref"], athlete.get("restrictions", ()), people)
    # PostgreSQL alters no table in the steps after this one while rows of it wait to be looked at.
    schema_editor.connection.check_constraints()


def _adopt(
    apps: Apps,
    programme: Any,  # noqa: ANN401 - a row as it was then
    ref: str,
    those: Iterable[Mapping[str, object]],
    people: Mapping[str, int],
) -> None:
    if not those:
        return
    row = apps.get_model("store", "Athlete").objects.filter(squad_id=programme.squad_id, ref=ref).first()
    if row is None:
        return
    table = apps.get_model("store", "Restriction")
    there = table.objects.filter(athlete=row)
    known = {Restriction.model_validate_json(one.document).in_order() for one in there}
    names = {one.ref for one in there}
    today = timezone.localdate()
    for said in those:
        one = Restriction.model_validate_json(json.dumps(said))
        text = canonical(one)
        if one.in_order() in known or (one.until is not None and one.until < today):
            continue
        name = one.ref if one.ref not in names else f"{one.ref[:31]}.{sha256(text.encode()).hexdigest()[:8]}"
        names.add(name)
        known.add(one.in_order())
        table.objects.create(
            athlete=row,
            ref=name,
            document=text,
            set_by_id=people.get(programme.made_by),
            set_in="clinician" if one.set_as == "clinician" else "coach",
            set_at=timezone.now(),
            came_with=programme.name,
        )
        apps.get_model("store", "Audit").objects.create(
            squad_id=programme.squad_id,
            at=timezone.now(),
            by=BY,
            action="set_restriction",
            about=ref,
            detail=f"{one.ref}: came with the programme {programme.ref}",
        )


class Migration(migrations.Migration):
    dependencies = [("store", "0003_clearances")]

    operations = [
        migrations.AddField(
            model_name="restriction",
            name="came_with",
            field=models.CharField(default="", max_length=150),
        ),
        migrations.RunPython(adopt, migrations.RunPython.noop),
    ]
