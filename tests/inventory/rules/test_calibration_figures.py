"""Figures of a calibration certificate: kept as they are written, refused where they cannot be."""

import pytest

from inventory.rules.calibration_figures import CalibrationFigures, NoFigure


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        pytest.param({}, ("", "", ""), id="none stated"),
        pytest.param(
            {"uncertainty_pct": "0,24 %", "coverage_factor": " 2.00"},
            ("0.24", "2.00", ""),
            id="comma, sign and figures",
        ),
        pytest.param({"repeatability_pct": "0.30"}, ("", "", "0.30"), id="repeatability alone"),
    ],
)
def test_figures_are_kept_as_written(given, kept):
    read = CalibrationFigures.read(**given)
    assert (read.uncertainty_pct, read.coverage_factor, read.repeatability_pct) == kept


@pytest.mark.parametrize(
    ("given", "field"),
    [
        pytest.param({"repeatability_pct": "0"}, "repeatability_pct", id="nought"),
        pytest.param({"repeatability_pct": "-1"}, "repeatability_pct", id="negative"),
        pytest.param({"repeatability_pct": "10.1"}, "repeatability_pct", id="too much"),
        pytest.param({"repeatability_pct": "some"}, "repeatability_pct", id="no number"),
        pytest.param({"repeatability_pct": "NaN"}, "repeatability_pct", id="not a number"),
        pytest.param({"repeatability_pct": "0.3333333"}, "repeatability_pct", id="too long"),
        pytest.param({"uncertainty_pct": "0.2"}, "coverage_factor", id="no factor"),
        pytest.param({"coverage_factor": "2"}, "uncertainty_pct", id="factor of nothing"),
        pytest.param(
            {"uncertainty_pct": "0.2", "coverage_factor": "15"}, "coverage_factor", id="great k"
        ),
    ],
)
def test_what_is_no_figure(given, field):
    with pytest.raises(NoFigure) as refused:
        CalibrationFigures.read(**given)
    assert refused.value.field == field
