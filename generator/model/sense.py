"""What is possible: the least and the most that a quantity in a file can be, by its unit, and closer where a symbol
says more. Each limit is our own judgement of what no boat shop can meet; it finds slips of the pen and chooses nothing.
"""

from __future__ import annotations

from functools import cache

from ..formula import FORMULARY
from ..units import QuantityError, clip, plain, read_quantity, span_for

# By SI unit, as they are written.
BY_UNIT: dict[str, tuple[str, str]] = {
    "dimensionless": ("0", "100000"),
    "m": ("0 mm", "100 m"),
    "m**2": ("0 mm2", "1000 m2"),
    "m**3": ("0 mL", "10000 L"),
    "kg": ("0 g", "100000 kg"),
    "kg/m**2": ("0 g/m2", "50 kg/m2"),
    "kg/m**3": ("1 kg/m3", "25000 kg/m3"),
    "rad": ("0 deg", "180 deg"),
    "s": ("0 s", "10000 d"),
    "K": ("-60 degC", "1000 degC"),
    "delta_degC": ("0 K", "1000 K"),
    "N": ("0 N", "10000 kN"),
    "Pa": ("0 kPa", "1500 GPa"),
    "J": ("0 J", "1000000 kJ"),
    "W": ("0 W", "1000 kW"),
    "N*m": ("0 Nm", "100000 Nm"),
    "N/m": ("0 N/mm", "100000 N/mm"),
    "m/s": ("0 m/s", "100 m/s"),
    "J/kg": ("0 J/g", "5000 J/g"),
    "J/(kg*K)": ("0 kJ/kgK", "10 kJ/kgK"),
    "J/mol": ("0 kJ/mol", "500 kJ/mol"),
    "J/(mol*K)": ("8 J/molK", "9 J/molK"),
    "kg/mol": ("1 g/mol", "5000 g/mol"),
    "W/(m*K)": ("0.001 W/mK", "500 W/mK"),
    "W/m**3": ("0 W/L", "10000 W/L"),
    "m/s**2": ("9.7 m/s2", "9.9 m/s2"),
    "1/K": ("0 1/K", "1 mm/mK"),
}
# By symbol, closer than its unit says.
BY_SYMBOL: dict[str, tuple[str, str]] = {
    "d": ("1 mm", "100 mm"),
    "P": ("0.2 mm", "8 mm"),
    "D_y": ("0.7 mm", "100 mm"),
    # The depths of a thread in parts of its triangle: the basic profile has 5/4, the root radius adds up to a sixth.
    "k_3": ("1.37", "1.42"),
    "k_s": ("1.08", "1.13"),
    # From balsa to lignum vitae.
    "G": ("0.1", "1.3"),
    "f_v": ("1 MPa", "30 MPa"),
    "f_c0": ("5 MPa", "120 MPa"),
    "f_c90": ("0.5 MPa", "40 MPa"),
    "f_u": ("100 MPa", "1500 MPa"),
    "f_p": ("50 MPa", "1400 MPa"),
    "rho_r": ("1.02 g/mL", "1.30 g/mL"),
    "rho_h": ("0.85 g/mL", "1.20 g/mL"),
    "rho_b": ("0.02 g/mL", "2.5 g/mL"),
    "rho_t": ("0.1 g/mL", "4.5 g/mL"),
    "q_s": ("0.05", "5"),
    "T_a": ("-30 degC", "80 degC"),
    # Parts of resin to one of hardener.
    "n_v": ("0.1", "20"),
    "n_w": ("0.1", "20"),
    "V_s": ("1 mL", "5 L"),
    "t_s": ("0.3 mm", "20 mm"),
    "t_u": ("1 s", "24 h"),
    "t_x": ("0 s", "24 h"),
    # What a fitting must carry.
    "F_n": ("1 N", "1000 kN"),
    "theta_p": ("0 deg", "90 deg"),
}


@cache
def limits(symbol: str) -> tuple[float, float]:
    """The least and the most that a symbol's quantity can be, in SI units."""
    defined = FORMULARY.symbols[symbol]
    low, high = ("0", str(defined.marks)) if defined.marks else BY_SYMBOL.get(symbol, BY_UNIT[defined.unit])
    return read_quantity(low, defined.unit), read_quantity(high, defined.unit)


def sensible(value: float, low: float, high: float) -> bool:
    """Whether a value lies between two others, or on one of them but for binary noise."""
    return low - 1e-9 * abs(low) <= value <= high + 1e-9 * abs(high)


def refuse_nonsense(symbol: str, text: str, value: float) -> None:
    """Raises QuantityError where a file gives the symbol a value that cannot be."""
    if not sensible(value, *limits(symbol)):
        defined, right = FORMULARY.symbols[symbol], span_for(text, *limits(symbol), FORMULARY.symbols[symbol].unit)
        raise QuantityError(f"'{clip(text)}' cannot be the {defined.meaning}; give {plain(right)}")
