"""A link knows the account that made it, for it ends with that person's right to share."""

import django.db.models.deletion
from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor


def find_makers(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    people = apps.get_model("store", "Person").objects
    links = apps.get_model("store", "ShareLink").objects
    for login in links.values_list("made_by", flat=True).distinct():
        links.filter(made_by=login).update(maker=people.filter(login=login).first())
    # PostgreSQL alters no table in the steps after this one while rows of it wait to be looked at.
    schema_editor.connection.check_constraints()


class Migration(migrations.Migration):
    dependencies = [("store", "0005_asked")]

    operations = [
        migrations.AddField(
            model_name="sharelink",
            name="maker",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="links",
                to="store.person",
            ),
        ),
        migrations.RunPython(find_makers, migrations.RunPython.noop),
    ]
