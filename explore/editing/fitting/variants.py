"""A piece with other edgings, and in a wider band: more pieces to fit an object with."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from constraints.catalogue import CATALOGUE, Edging, edging_of, offers
from constraints.check import check
from constraints.design import Design
from explore.asking.names import nearest
from explore.bad_input import BadInput

ANY_EDGING = "any"


@dataclass(frozen=True)
class Allowed:
    """What may be changed beside repeats, turnovers and pitch. edgings: to be tried instead of its own. wider: by so
    many units of half-size, or columns of a strip, the piece may grow."""

    edgings: tuple[Edging, ...] = ()
    wider: int = 0


@dataclass(frozen=True, eq=False)
class Variant:
    """piece: checked. told: how it differs from the piece she chose, "" for that piece itself."""

    piece: Design
    told: str = ""


def named_edgings(name: str, flag: str) -> tuple[Edging, ...]:
    """The edgings of the catalogue that she asks for: one by its name, or any. Raises BadInput."""
    called = " ".join(name.split())
    found = tuple(each for each in CATALOGUE if called in (ANY_EDGING, each.called))
    if not found:
        hint = nearest(called, [ANY_EDGING, *(each.called for each in CATALOGUE)]) or "`edgings` lists them"
        raise BadInput(f"{flag} is {name!r}; allowed: any, or an edging of the catalogue; {hint}")
    return found


def variants(piece: Design, edgings: tuple[Edging, ...], wider: int) -> Iterator[Variant]:
    """The piece itself; then with other edgings, each at the least size at which whole fans fit and no block is in the
    way, and with all of them up to so many units or columns wider. Raises BadInput for pieces that keep their edge."""
    yield Variant(piece)
    if not edgings and not wider:
        return
    own = edging_of(piece)
    try:
        for wanted in (own, *(each for each in edgings if each != own)):
            yield from _sizes(piece, wanted, wanted == own, wider)
    except ValueError as error:
        raise BadInput(f"{piece.number:02d}: {error}") from None


def _sizes(piece: Design, wanted: Edging, own: bool, wider: int) -> Iterator[Variant]:
    least: int | None = 0 if own else None
    for offer in offers(piece, wanted):
        if least is not None and offer.grown > least + wider:
            return
        if (own and not offer.grown) or check(offer.piece):
            continue
        least = offer.grown if least is None else least
        wider_by = f"{offer.growth} wider" if offer.grown else ""
        without = f"{offer.lost} left out" if offer.left_out else ""
        told = ("" if own else wanted.called, wider_by, without)
        yield Variant(offer.piece, ", ".join(each for each in told if each))
