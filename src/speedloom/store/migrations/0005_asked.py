"""What was asked before hard work keeps who wrote it down: a clinician's answers from before are found again."""

import json

import django.db.models.deletion
from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

SAID = ("cleared", "not cleared")


def _of_who_left(answers: str) -> str:
    """Give a role where none is found: a no may have been a clinician's, and stands until one changes it."""
    return "viewer" if json.loads(answers)["cleared"] else "clinician"


def find_again(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    deeds = apps.get_model("store", "Audit").objects.filter(action="record_clearance", detail__in=SAID)
    people = apps.get_model("store", "Person").objects
    members = apps.get_model("store", "Membership").objects
    for athlete in apps.get_model("store", "Athlete").objects.exclude(screening=""):
        # The newest answers are those the athlete's row holds.
        deed = deeds.filter(squad_id=athlete.squad_id, about=athlete.ref).order_by("-pk").first()
        if deed is None:
            continue
        person = people.filter(login=deed.by).first()
        member = members.filter(squad_id=athlete.squad_id, person=person).first() if person else None
        apps.get_model("store", "Asked").objects.create(
            athlete=athlete,
            document=athlete.screening,
            role=member.role if member else _of_who_left(athlete.screening),
            name=person.name if person else deed.by,
            by=deed.by,
            at=deed.at,
        )
    # PostgreSQL alters no table in the steps after this one while rows of it wait to be looked at.
    schema_editor.connection.check_constraints()


class Migration(migrations.Migration):
    dependencies = [("store", "0004_limits_of_documents")]

    operations = [
        migrations.CreateModel(
            name="Asked",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("document", models.TextField()),
                (
                    "role",
                    models.CharField(
                        choices=[
                            ("owner", "owner"),
                            ("coach", "coach"),
                            ("assistant", "assistant"),
                            ("clinician", "clinician"),
                            ("athlete", "athlete"),
                            ("viewer", "viewer"),
                        ],
                        max_length=10,
                    ),
                ),
                ("name", models.CharField(max_length=150)),
                ("by", models.CharField(max_length=150)),
                ("at", models.DateTimeField()),
                (
                    "athlete",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="asked",
                        to="store.athlete",
                    ),
                ),
            ],
            options={
                "abstract": False,
            },
        ),
        migrations.RunPython(find_again, migrations.RunPython.noop),
    ]
