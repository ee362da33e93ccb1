"""A site chooses the units its people read."""

from typing import ClassVar

from django.db import migrations, models


class Migration(migrations.Migration):
    """One column."""

    dependencies: ClassVar = [("records", "0005_keys")]
    operations: ClassVar = [
        migrations.AddField("site", "us_units", models.CharField(blank=True, max_length=80)),
    ]
