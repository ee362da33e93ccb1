"""An entry may say that nobody could be asked about it when it was written."""

from typing import ClassVar

from django.db import migrations, models


class Migration(migrations.Migration):
    """One column."""

    dependencies: ClassVar = [("records", "0006_units_of_a_site")]
    operations: ClassVar = [
        migrations.AddField(
            "entry", "unasked", models.BooleanField(default=False, db_default=False)
        ),
    ]
