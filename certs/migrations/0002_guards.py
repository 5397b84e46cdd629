"""Put up the guards: what the database itself refuses (see `certs.models.claim_guards`)."""

from django.apps.registry import Apps
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

from certs.models.claim_guards import GUARDS
from inventory.models.guards import put_up, take_down


def put_up_guards(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    put_up(schema_editor.connection, GUARDS)


def take_down_guards(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    take_down(schema_editor.connection, GUARDS)


class Migration(migrations.Migration):
    dependencies = [("certs", "0001_claims")]

    operations = [migrations.RunPython(put_up_guards, take_down_guards)]
