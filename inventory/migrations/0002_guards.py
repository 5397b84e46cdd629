"""Put up the guards: what the database itself refuses (see `inventory.models.ledger_guards`)."""

from django.apps.registry import Apps
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

from inventory.models.ledger_guards import GUARDS
from inventory.models.guards import put_up, take_down


def put_up_guards(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    put_up(schema_editor.connection, GUARDS)


def take_down_guards(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    take_down(schema_editor.connection, GUARDS)


class Migration(migrations.Migration):
    dependencies = [("inventory", "0001_record")]

    operations = [migrations.RunPython(put_up_guards, take_down_guards)]
