"""What a site's settings say of this program: the plugin's options in mkdocs.yml, for a build and for every command."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from mkdocs.config import base
from mkdocs.config import config_options as c
from mkdocs.exceptions import ConfigurationError
from mkdocs.utils.yaml import yaml_load

from .errors import BondwrightError
from .language import ENGLISH
from .model.library import Library
from .pages.options import PAPERS, UNITS, SiteOptions
from .shipped import BUILTIN, PROCEDURES
from .units import SYSTEMS, System


class Options(base.Config):
    """The plugin's options in mkdocs.yml."""

    procedures = c.Optional(c.Type((str, list)))
    units = c.Optional(c.Choice(UNITS))
    paper = c.Optional(c.Choice(PAPERS))
    threads = c.ListOfItems(c.Type(str), default=[])
    offline = c.Type(bool, default=False)
    cards = c.Optional(c.ListOfItems(c.Type(str)))
    tables = c.Optional(c.ListOfItems(c.Type(str)))
    jobs = c.Optional(c.ListOfItems(c.Type(str)))
    languages = c.ListOfItems(c.Type(str), default=[ENGLISH])


def layers_of(named: str | Sequence[str] | None, base: Path) -> Path | tuple[Path, ...]:
    """The folders of procedures that an option names, seen from the folder of the settings. Where it names none it is
    the folder `procedures` there, or without one what comes with the program."""
    named = named or ("procedures" if (base / "procedures").is_dir() else BUILTIN)
    names = [named] if isinstance(named, str) else [str(one) for one in named]
    layers = tuple(PROCEDURES if name == BUILTIN else base / name for name in names)
    return layers if len(layers) > 1 else layers[0]


def one_shop(options: Options) -> System | None:
    """The units that the options choose for the whole site; nothing where they choose none or both."""
    return options.units if options.units in SYSTEMS else None


def site_options(options: Options, library: Library, address: str = "", flat: bool = False) -> SiteOptions:
    """What the options choose for the site; where they say nothing, what the shop's own file says. Raises
    BondwrightError where they name what is not there."""
    shop = library.shop_file
    return SiteOptions(
        options.units or (shop and shop.units) or "both",
        options.paper or (shop and shop.paper) or "A4",
        threads=tuple(options.threads),
        cards=None if options.cards is None else tuple(options.cards),
        tables=None if options.tables is None else tuple(options.tables),
        jobs=None if options.jobs is None else tuple(options.jobs),
        address=address,
        flat=flat,
    ).of(library)


def settings_in(settings: Path) -> dict[str, Any]:
    """What a site's settings say. Raises BondwrightError."""
    try:
        with settings.open(encoding="utf-8") as file:
            whole: Any = yaml_load(file)
    except RecursionError:
        raise BondwrightError(f"{settings}: cannot be read: it inherits from itself, or is nested too deep") from None
    except (
        OSError,
        ConfigurationError,
        TypeError,
        ValueError,
    ) as error:  # a date or a letter that is none is a ValueError
        raise BondwrightError(f"{settings}: cannot be read: {error}") from None
    return whole if isinstance(whole, dict) else {}


def options_in(settings: Path) -> Options:
    """This plugin's options in a site's settings, without building anything. Raises BondwrightError."""
    written = _plugins(settings_in(settings).get("plugins") or []).get("bondwright") or {}
    if not isinstance(written, dict):
        raise BondwrightError(f"{settings}: plugin 'bondwright': its options are written as 'name: value' lines")
    options = Options(str(settings))
    options.load_dict(written)
    faults, unknown = options.validate()  # MkDocs warns of an unknown one, and a strict build ends there
    if told := [*faults, *unknown]:
        raise BondwrightError(
            "\n".join(f"{settings}: plugin 'bondwright': option '{name}': {why}" for name, why in told)
        )
    return options


def _plugins(entries: object) -> dict[Any, Any]:
    """The plugins by name, each with its options; what is no plugin is left to MkDocs to say."""
    if isinstance(entries, list):
        return {name: own for entry in entries if isinstance(entry, dict) for name, own in entry.items()}
    return entries if isinstance(entries, dict) else {}
