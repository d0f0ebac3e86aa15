"""The answer to a saved ask, and 'why not this one?' for any yarn on the shelf."""

from collections.abc import Iterator
from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.answering.model.answer import Answer, Candidate, Suitability
from shopdesk.counter.answered import answered, ask_in_visit
from shopdesk.counter.pictures.gauge_ruler import gauge_ruler
from shopdesk.counter.request import shop
from shopdesk.craft import lengths
from shopdesk.services.answers import NamedYarn, judge_named
from shopdesk.slips.pattern_asks import pattern_facts
from shopdesk.wording.formatting import capital

pages = Blueprint("answers", __name__)

FIRST_OF_A_GROUP = 6
FIRST_NOT_FOR_THIS = 20
MOST_FOUND = 60


@dataclass(frozen=True, slots=True)
class ShownGroup:
    """One group as the page shows it; `more` is how many are left out for now."""

    group: Suitability
    candidates: tuple[Candidate, ...]
    shown: tuple[Candidate, ...]

    @property
    def words(self) -> str:
        """The group's heading."""
        return capital(self.group.value)

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
        saved=made.saved,
        asked=pattern_facts(made.saved.ask),
        groups=list(_groups(made.answer, everything="all" in request.args)),
        ruler=gauge_ruler(made.answer.target.natural_stitches, made.answer.candidates),
    )


@pages.get("/asks/<token>/why")
def why(token: str) -> Response | str:
    """Finds the yarn that is asked about and leads to its judgement."""
    saved = ask_in_visit(token)
    wanted = request.args.get("yarn", "").strip()[: lengths.YARN]
    named = judge_named(shop(), saved.ask, wanted, MOST_FOUND) if wanted else ()
    if len(named) == 1 and named[0].judged is not None:
        return redirect(url_for("choosing.yarn", token=token, sku=named[0].sku), 303)
    found = [(one.sku, one.name, _standing(one)) for one in named]
    return render_template("why.html", saved=saved, wanted=wanted, found=found, most=MOST_FOUND)


def _groups(answer: Answer, everything: bool) -> Iterator[ShownGroup]:
    for group in Suitability:
        candidates = answer.in_group(group)
        first = FIRST_NOT_FOR_THIS if group is Suitability.NOT_FOR_THIS else FIRST_OF_A_GROUP
        yield ShownGroup(group, candidates, candidates if everything else candidates[:first])


def _standing(one: NamedYarn) -> str | None:
    """Returns how a yarn stands; None for one that is not on offer any more."""
    if one.judged is None:
        return None
    ruled_out = one.judged.ruled_out is not None
    return "ruled out by a wish" if ruled_out else one.judged.candidate.group.value
