"""The answer to a kept ask, and 'why not this one?' for any yarn on the shelf."""

from collections.abc import Iterator
from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, request, url_for
from sqlalchemy import select
from werkzeug.wrappers import Response

from shopdesk.answering.answer.candidates import RankedCandidate
from shopdesk.answering.model.answer import Answer, Candidate, Suitability
from shopdesk.counter.answered import Answered, answered, judged_apart
from shopdesk.counter.pictures.gauge_ruler import gauge_ruler
from shopdesk.counter.request import engine
from shopdesk.slips.pattern_asks import pattern_facts
from shopdesk.store.database import reading
from shopdesk.store.models import Yarn

pages = Blueprint("answers", __name__)

FIRST_OF_A_GROUP = 6
FIRST_NOT_FOR_THIS = 20
MOST_FOUND = 60
LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class ShownGroup:
    """One group as the page shows it; `more` is how many are left out for now."""

    group: Suitability
    candidates: tuple[Candidate, ...]
    shown: tuple[Candidate, ...]

    @property
    def words(self) -> str:
        """The group's heading."""
        return self.group.value[:1].upper() + self.group.value[1:]

    @property
    def anchor(self) -> str:
        """The id of the group's heading."""
        return self.group.name.lower().replace("_", "-")

    @property
    def suits(self) -> bool:
        """Whether its yarns may be chosen without further talk."""
        return self.group is not Suitability.NOT_FOR_THIS

    @property
    def more(self) -> int:
        """How many of its yarns are not shown."""
        return len(self.candidates) - len(self.shown)


@pages.get("/asks/<token>")
def answer(token: str) -> str:
    """Shows the whole answer; `?all=1` leaves no yarn out."""
    made = answered(token)
    return render_template(
        "answer.html",
        made=made,
        asked=pattern_facts(made.ask),
        groups=list(_groups(made.answer, everything="all" in request.args)),
        ruler=gauge_ruler(made.answer.target.natural_stitches, made.answer.candidates),
    )


@pages.get("/asks/<token>/why")
def why(token: str) -> Response | str:
    """Finds the yarn that is asked about and leads to its judgement."""
    made = answered(token)
    wanted = request.args.get("yarn", "").strip()[:LONGEST_NAME]
    found = list(_found(made, wanted)) if wanted else []
    if len(found) == 1 and found[0][2] is not None:
        return redirect(url_for("choosing.yarn", token=token, sku=found[0][0]), 303)
    return render_template("why.html", made=made, wanted=wanted, found=found, most=MOST_FOUND)


def _groups(answer: Answer, everything: bool) -> Iterator[ShownGroup]:
    for group in Suitability:
        candidates = answer.in_group(group)
        first = FIRST_NOT_FOR_THIS if group is Suitability.NOT_FOR_THIS else FIRST_OF_A_GROUP
        yield ShownGroup(group, candidates, candidates if everything else candidates[:first])


def _found(made: Answered, wanted: str) -> Iterator[tuple[str, str, str | None]]:
    """Yields SKU, name and standing of the yarns that have the words in name or SKU.

    The standing of a yarn that is not on offer any more is None.
    """
    with reading(engine()) as session:
        rows = session.execute(
            select(Yarn.sku, Yarn.name)
            .where(
                Yarn.sku.icontains(wanted, autoescape=True)
                | Yarn.name.icontains(wanted, autoescape=True)
            )
            .order_by(Yarn.name)
            .limit(MOST_FOUND)
        ).all()
    exact = [row for row in rows if row.sku.casefold() == wanted.casefold()]
    shown = exact or rows
    listed = {candidate.sku: candidate.group.value for candidate in made.answer.candidates}
    apart = judged_apart(made.ask, [row.sku for row in shown if row.sku not in listed])
    standing = listed | {sku: _standing(one) for sku, one in apart.items()}
    for row in shown:
        yield row.sku, row.name, standing.get(row.sku)


def _standing(one: RankedCandidate) -> str:
    return "ruled out by a wish" if one.unmet is not None else one.candidate.group.value
