"""One's own shop in one file: what it has, laid over the data that ship, and what its cards come set to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from math import inf
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, model_validator

from ..errors import Fault
from ..units import LENGTH_UNIT, SYSTEMS, QuantityError, System, clip, read_quantity
from .kinds import Answer, Identifier, Line, Stamped, Text
from .quantity import Quantity, of_symbol
from .schema import Strict, overlaid
from .yaml_text import Document, Path_

OWN = "own"
OWN_SOURCE = "your-own"
# The cup that the data state pot lives for.
_CUP = 0.1


def _enough(text: str) -> str:
    """A cup of less would make the mix last longer than that of the data does."""
    if read_quantity(text, "kg") < _CUP - 1e-9:
        raise QuantityError(f"'{text}' is less than the 100 g that times are reckoned for; ask for the time in 100 g")
    return text


Cup = Annotated[str, AfterValidator(_enough)]


class OwnEpoxy(Strict):
    """The shop's epoxy: the densities of its two parts, and how it is mixed."""

    title: Line
    resin: Annotated[Quantity, of_symbol("rho_r", "resin")]
    hardener: Annotated[Quantity, of_symbol("rho_h", "hardener")]
    ratio: Answer


class OwnHardener(Strict):
    """A hardener by its data sheet: how long `lasts` a `cup` of mix `at` a temperature, and its curing times.

    A larger cup gets hotter and lasts less, so what is stated for more than 100 g is taken as it is.
    """

    title: Line | None = None
    lasts: Annotated[Quantity, of_symbol("t_r", "lasts")] | None = None
    cup: Cup = "100 g"
    at: Annotated[Quantity, of_symbol("T_r", "at")] | None = None
    coldest: Annotated[Quantity, of_symbol("T_min", "coldest")] | None = None
    cures_at: Annotated[Quantity, of_symbol("T_c", "cures_at")] | None = None
    next_coat: Annotated[Quantity, of_symbol("t_c0", "next_coat")] | None = None
    last_coat: Annotated[Quantity, of_symbol("t_d0", "last_coat")] | None = None
    handle: Annotated[Quantity, of_symbol("t_h0", "handle")] | None = None
    light_load: Annotated[Quantity, of_symbol("t_l0", "light_load")] | None = None
    full_load: Annotated[Quantity, of_symbol("t_f0", "full_load")] | None = None


class OwnFiller(Strict):
    """A filler: its density `loose` in the cup and of the `grains`, how much of it, loose, makes a `stiff` mix of one
    of resin and hardener, and whether it may stand round a loaded `fastener`: 1 or 0."""

    title: Line | None = None
    loose: Annotated[Quantity, of_symbol("rho_b", "loose")] | None = None
    grains: Annotated[Quantity, of_symbol("rho_t", "grains")] | None = None
    stiff: Annotated[Quantity, of_symbol("q_s", "stiff")] | None = None
    fastener: Annotated[Quantity, of_symbol("k_u", "fastener")] | None = None


_SYMBOLS = {
    "hardeners": {
        "lasts": "t_r", "at": "T_r", "coldest": "T_min", "cures_at": "T_c", "next_coat": "t_c0", "last_coat": "t_d0",
        "handle": "t_h0", "light_load": "t_l0", "full_load": "t_f0",
    },
    "fillers": {"loose": "rho_b", "grains": "rho_t", "stiff": "q_s", "fastener": "k_u"},
}  # fmt: skip

_IN_ORDER = [("next_coat", "last_coat"), ("handle", "light_load"), ("light_load", "full_load")]


class OwnShop(Strict):
    """shop.yaml. `drills` are the sizes that hang on the wall, by kind, in the shop's own unit. `defaults` are what
    cards, tables and forms come set to, by input. `rules` stand on the home page."""

    name: Stamped
    units: System | None = None
    paper: Literal["A4", "Letter"] | None = None
    rules: Text | None = None
    drills: dict[Identifier, Annotated[list[Answer], Field(min_length=1)]] = Field(default_factory=dict)
    epoxy: OwnEpoxy | None = None
    hardeners: dict[Identifier, OwnHardener] = Field(default_factory=dict)
    fillers: dict[Identifier, OwnFiller] = Field(default_factory=dict)
    defaults: dict[str, Answer] = Field(default_factory=dict)

    @model_validator(mode="after")
    def drills_have_a_unit(self) -> OwnShop:
        """Sizes without a unit go by that of the shop."""
        if self.drills and not self.units:
            raise ValueError("say whether these drills are metric or inch: add 'units'")
        return self

    @property
    def _defaults(self) -> dict[str, tuple[str, Path_]]:
        """What inputs come set to, each with where that is said."""
        epoxy = {"resin": (OWN, ("epoxy",)), "ratio": (self.epoxy.ratio, ("epoxy", "ratio"))} if self.epoxy else {}
        return {**epoxy, **{name: (text, ("defaults", name)) for name, text in self.defaults.items()}}

    def over(self, name: str, lower: Mapping[str, Any], document: Document) -> Document | None:
        """What the shop lays over a file of data, of which `lower` is what stands there."""
        if name == "data/drills.yaml" and self.drills and self.units:
            stock = [
                {
                    "kind": kind,
                    "shop": self.units,
                    "of": self.name,
                    "unit": LENGTH_UNIT[self.units],
                    "source": OWN_SOURCE,
                    "sizes": sizes,
                }
                for kind, sizes in self.drills.items()
            ]
            places = enumerate(("drills", kind) for kind in self.drills)
            origins: dict[Path_, Path_] = {
                part: there for at, there in places for part in (("stock", at), ("stock", at, "sizes"))
            }
            return _of({"stock": stock}, origins, document)
        if name == "data/resins.yaml" and self.epoxy:
            gives = {"rho_r": str(self.epoxy.resin), "rho_h": str(self.epoxy.hardener)}
            rows = {OWN: {"title": self.epoxy.title, "source": OWN_SOURCE, "gives": gives}}
            written = {"rho_r": "resin", "rho_h": "hardener"}.items()
            values = {("rows", OWN, "gives", symbol): ("epoxy", name) for symbol, name in written}
            return _of({"rows": rows}, {("rows", OWN): ("epoxy",), **values}, document)
        if name == "inputs.yaml" and self._defaults:
            below, key = lower.get("givens", {}), self.units or "default"
            givens, origins = {}, {}
            for one, (text, there) in self._defaults.items():
                if one not in below:  # told in `faults`
                    continue
                shared = below[one]
                other = {system: shared.get(system, shared.get("default", "")) for system in SYSTEMS}
                givens[one] = overlaid(shared, {**other, key: text} if self.units else {key: text})
                origins["givens", one, key] = (*there,)
            return _of({"givens": givens}, origins, document)
        kind = name.removeprefix("data/").removesuffix(".yaml")
        own: Mapping[str, OwnHardener | OwnFiller] = getattr(self, kind) if kind in _SYMBOLS else {}
        if not own:
            return None
        below = lower.get("rows", {})
        rows = {key: _row(row, below.get(key), _SYMBOLS[kind], key) for key, row in own.items()}
        rows_of: dict[Path_, Path_] = {("rows", key): (kind, key) for key in own}
        parts: dict[Path_, Path_] = {
            ("rows", key, "gives", symbol): (kind, key, name) for key in own for name, symbol in _SYMBOLS[kind].items()
        }
        return _of({"rows": rows}, {**rows_of, **parts}, document)

    def faults(self, name: str, lower: Mapping[str, Any], document: Document) -> Iterator[Fault]:
        """Defaults of inputs that no card shares, and a hardener or filler of a new name that does not give everything.
        `lower` are the entries that ship."""
        if name == "inputs.yaml":
            for key in self.defaults:
                if key not in lower:
                    near = get_close_matches(key, lower, n=3) or list(lower)
                    message = f"no card shares an input '{clip(key)}'; near it: {', '.join(near)}"
                    yield document.fault(("defaults", key), message, at_key=True)
        kind = name.removeprefix("data/").removesuffix(".yaml")
        for key, row in getattr(self, kind).items() if kind in _SYMBOLS else ():
            wanted = ["title", *_SYMBOLS[kind]] if key not in lower else []
            if missing := [one for one in wanted if getattr(row, one) is None]:
                message = f"add {', '.join(missing)}; or take a name that ships, to keep the rest: {', '.join(lower)}"
                yield document.fault((kind, key), message, at_key=True)
            elif isinstance(row, OwnHardener):
                yield from _hardener_faults((kind, key), row, lower.get(key), document)


def _hardener_faults(path: Path_, row: OwnHardener, below: Any, document: Document) -> Iterator[Fault]:
    """Times that come out of their order; what the row does not say is as it ships."""
    ships = below.get("gives", {}) if isinstance(below, dict) else {}
    for one, after in _IN_ORDER:
        said = [getattr(row, name) for name in (one, after)]
        texts = [own or ships.get(_SYMBOLS["hardeners"][name]) for own, name in zip(said, (one, after), strict=True)]
        if any(said) and all(texts) and _seconds(texts[0], 0) > _seconds(texts[1], inf):
            place = one if said[0] else after
            message = f"{one}, {texts[0]}, is later than {after}, {texts[1]}; mend one or give both"
            yield document.fault((*path, place), message)


def _seconds(text: Any, unread: float) -> float:
    """A time; `unread` for what is none, which is told where it stands."""
    try:
        return read_quantity(str(text), "s")
    except QuantityError:
        return unread


def _of(data: dict[str, Any], origins: Mapping[Path_, Path_], document: Document) -> Document:
    """Entries made from a file, each knowing where that says them."""
    return Document(
        document.file, document.text, data, origins={here: (document, there) for here, there in origins.items()}
    )


def _row(row: OwnHardener | OwnFiller, below: Any, symbols: Mapping[str, str], key: str) -> dict[str, Any]:
    """A row as the data hold it: what the shop says, over the row that ships under its name."""
    below = below if isinstance(below, dict) else {}
    gives = {symbol: str(value) for name, symbol in symbols.items() if (value := getattr(row, name)) is not None}
    sources = {**below.get("sources", {}), **dict.fromkeys(gives, OWN_SOURCE)}
    kept = {name: value for name, value in below.items() if name not in ("note", "total")}
    return {
        "source": OWN_SOURCE,
        **kept,
        "title": row.title or below.get("title", key),
        "gives": {**below.get("gives", {}), **gives},
        "sources": sources,
    }
