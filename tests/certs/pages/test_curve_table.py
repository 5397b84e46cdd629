from certs.documents.load_curve_table import CurveRow
from certs.pages.curve_table import table_of_curve


def test_moments_of_a_log_become_a_table():
    table = table_of_curve([CurveRow("11", "31 kN", "peak")])
    assert [cell.text for _, cell in table.rows[0].under] == ["11", "31 kN", "peak"]
    assert [column.is_number for column in table.columns] == [True, True, False]
