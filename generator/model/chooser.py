"""What the YAML of the chooser means: its questions, the numbers it asks for, and the cards that it chooses from."""

from __future__ import annotations

from itertools import product

from pydantic import Field

from .home import Taking
from .kinds import Identifier, Line, Text
from .schema import Act, Given, InputName, Strict


class Question(Strict):
    """A question with the answers that can be ticked."""

    ask: Line
    options: dict[Identifier, Line] = Field(min_length=2)


class Way(Strict):
    """A way that a load acts: how it is asked for, and how a result names it."""

    ask: Line
    words: Line


class CardChoice(Taking):
    """A card that may be chosen. `fits` names the answers that it is for.

    `why` says in words what speaks for it, whatever the numbers say, and `against` what does not.
    """

    fits: dict[Identifier, list[Identifier]]
    why: Text
    against: Text


class Chooser(Strict):
    """chooser.yaml. `nothing` is what is said where the answers leave no card."""

    questions: dict[Identifier, Question]
    givens: dict[InputName, Given]
    ways: dict[Act, Way] = Field(min_length=1)
    choices: list[CardChoice] = Field(min_length=1)
    nothing: Text

    @property
    def without_a_card(self) -> list[dict[str, str]]:
        """Every set of answers that leaves no card."""
        names = list(self.questions)
        answers = (dict(zip(names, one, strict=True)) for one in product(*(q.options for q in self.questions.values())))
        return [
            one
            for one in answers
            if not any(all(one[name] in choice.fits[name] for name in names) for choice in self.choices)
        ]
