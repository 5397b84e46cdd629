"""Budgets that others have worked, as they state them: EA-4/02 and the GUM (JCGM 100:2008)."""

from decimal import Decimal
from math import cos, sin, sqrt
from statistics import mean, stdev

from certs.rules.uncertainty_budget import budget
from certs.rules.uncertainty_component import (
    Component,
    Distribution,
    from_expanded,
    spread_evenly,
)


def normal(name, u, *, value=0, c=1, dof=None):
    return Component(
        name,
        Decimal(str(value)),
        Decimal(str(u)),
        Distribution.NORMAL,
        Decimal(1),
        Decimal(str(c)),
        None if dof is None else Decimal(str(dof)),
    )


# EA-4/02, example S2, in mg.
def ten_kilogram_weight():
    parts = [
        from_expanded("standard", expanded=Decimal(45), factor=Decimal(2), value=Decimal(10000005)),
        spread_evenly("drift", half_width=Decimal(15)),
        Component(
            "difference",
            Decimal(20),
            Decimal(25) / Decimal(3).sqrt(),
            Distribution.NORMAL,
            Decimal(3).sqrt(),
        ),
        spread_evenly("eccentricity and magnetism", half_width=Decimal(10)),
        spread_evenly("air buoyancy", half_width=Decimal(10)),
    ]
    return budget(parts, unit="mg")


# JCGM 100:2008, H.1, in nm, to first order.
def end_gauge():
    length = 50_000_623
    parts = [
        normal("standard", 25, value=length, dof=18),
        normal("difference", "9.7", value=215, dof="25.6"),
        normal("expansion coefficient of the standard", "1.2e-6", c=0),
        normal("deviation of temperature", "0.41", c=0),
        normal("difference of expansion coefficients", "0.58e-6", c=length * 0.1, dof=50),
        normal("difference of temperatures", "0.029", c=-length * 11.5e-6, dof=2),
    ]
    return budget(parts, coverage=Decimal("0.99"), unit="nm")


# JCGM 100:2008, Table H.2: five readings of voltage (V), current (A), phase (rad).
VOLTS = [5.007, 4.994, 5.005, 4.990, 4.999]
AMPERES = [reading / 1000 for reading in (19.663, 19.639, 19.640, 19.685, 19.678)]
RADIANS = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]


# JCGM 100:2008, H.2: resistance, reactance and modulus, as values and as budgets in ohm.
def impedances():
    v, i, phi = mean(VOLTS), mean(AMPERES), mean(RADIANS)
    resistance, reactance, modulus = v * cos(phi) / i, v * sin(phi) / i, v / i
    return {
        "R": (resistance, _of_slopes(cos(phi) / i, -resistance / i, -reactance)),
        "X": (reactance, _of_slopes(sin(phi) / i, -reactance / i, resistance)),
        "Z": (modulus, _of_slopes(1 / i, -modulus / i, 0)),
    }


def _of_slopes(volts, amperes, radians):
    pairs = {
        (0, 1): _r(VOLTS, AMPERES),
        (0, 2): _r(VOLTS, RADIANS),
        (1, 2): _r(AMPERES, RADIANS),
    }
    parts = [
        _of_readings("V", VOLTS, volts),
        _of_readings("I", AMPERES, amperes),
        _of_readings("phi", RADIANS, radians),
    ]
    return budget(parts, correlations=pairs, unit="ohm")


def _of_readings(name, readings, c):
    return normal(name, stdev(readings) / sqrt(5), value=mean(readings), c=c, dof=4)


def _r(first, second):
    a, b = mean(first), mean(second)
    products = sum((x - a) * (y - b) for x, y in zip(first, second, strict=True)) / 4
    return Decimal(str(products / stdev(first) / stdev(second)))
